"""A tube pressed between two supports: push, load, spring-back and set, elastic and then yielding.

The ram stands midway. Its load reaches the tube in two halves a pitch b apart: 0 for a round bar as ram, half the
saddle's length where the saddle presses evenly, all of it where a stiff saddle rests on its ends. Steel is elastic and
perfectly plastic. The moment M is even between the two loads and falls to nought over the arms a, so integrals along
an arm turn into integrals over the section's own curve m(k'):

    push under the ram  = a^2 (k - int_0^k (m / M)^2 dk') / 2 + k (a b / 2 + b^2 / 8),
    change of direction = 2 a (k - int_0^k m / M dk') + k b,

with k the curvature under the ram. Let go, the tube comes back elastically by M / E I (a^2 / 3 + a b / 2 + b^2 / 8)
under the ram and M / E I (a + b) in direction. What is left is the set.

Both integrals stay finite however large k gets. Whatever is pushed beyond `MOST_BENT` is a plastic hinge under the ram:
the load stays, and a further kink h adds h (a + b / 2) / 2 to push and set. Real steel hardens and spreads it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import log

import numpy as np
from scipy.optimize import brentq

from axlewright.straightness.correct.press_section import Section
from axlewright.weld._check import not_negative, positive

MOST_BENT = 60.0
"""Curvature over that at which the skin begins to yield from which on all further bending is a hinge [1]; the load is
then within 0.1 per cent of its highest."""
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(40)


@dataclass(frozen=True)
class Span:
    """Where the tube is held and pressed.

    Args:
        half: from the ram's middle to each support [m].
        pitch: between the two halves of the ram's load [m].

    Raises:
        ValueError: the halves of the load do not stand between the supports.
    """

    half: float
    pitch: float = 0.0

    def __post_init__(self) -> None:
        not_negative(pitch=self.pitch)
        positive(arm=self.half - self.pitch / 2.0)

    @property
    def arm(self) -> float:
        """From each support to the half of the load beside it [m]."""
        return self.half - self.pitch / 2.0

    @property
    def even(self) -> float:
        """Push under the ram for an even curvature between the two loads alone [m2]."""
        return self.arm * self.pitch / 2.0 + self.pitch**2 / 8.0


@dataclass(frozen=True)
class Push:
    """A push under the ram and what it leaves.

    Args:
        bent: curvature under the ram over the yield curvature, without the hinge [1].
        moment: under the ram [Nm].
        load: of the ram [N].
        push: of the tube under the ram from the first touch, bending only [m].
        spring_back: of that [m].
        kink: change of direction left between the supports, with the hinge [rad].
        hinge: part of the kink that is a hinge under the ram [rad].
    """

    bent: float
    moment: float
    load: float
    push: float
    spring_back: float
    kink: float
    hinge: float = 0.0

    @property
    def left(self) -> float:
        """Set under the ram over the line of the supports [m]."""
        return self.push - self.spring_back


def pushed(section: Section, span: Span, bent: float) -> Push:
    """A push that bends the section under the ram by a curvature; see the module's text.

    Args:
        section: what is pressed [-]
        span: supports and ram [-]
        bent: curvature under the ram over the yield curvature [1]

    Source: virtual work on a statically determinate span; Timoshenko, Strength of Materials II, 1956, ch. 9.
    Valid: one section all along the span, small slopes; shear is not in it.
    Raises: ValueError for a curvature that is not above zero.
    """
    positive(bent=bent)
    ratio = float(section.moment_ratio(np.array(bent)))
    once, square = _integrals(section, bent, ratio)
    arm, pitch, curvature = span.arm, span.pitch, section.yield_curvature
    moment = ratio * section.yield_moment
    return Push(
        bent=bent,
        moment=moment,
        load=2.0 * moment / arm,
        push=curvature * (arm**2 * (bent - square) / 2.0 + span.even * bent),
        spring_back=curvature * ratio * (arm**2 / 3.0 + span.even),
        kink=curvature * (2.0 * arm * (bent - once - ratio / 2.0) + pitch * (bent - ratio)),
    )


def push_to_kink(section: Section, span: Span, kink: float) -> Push:
    """The push that leaves a wanted change of direction.

    Args:
        section: what is pressed [-]
        span: supports and ram [-]
        kink: change of direction between the supports to be left [rad]

    Source: as `pushed`.
    Valid: as `pushed`.
    Raises: ValueError for a kink that is not above zero.
    """
    positive(kink=kink)
    return _solved(section, span, "kink", kink)


def push_to_set(section: Section, span: Span, left: float) -> Push:
    """The push that leaves a wanted set under the ram over the line of the supports.

    Args:
        section: what is pressed [-]
        span: supports and ram [-]
        left: set under the ram [m]

    Source: as `pushed`.
    Valid: as `pushed`.
    Raises: ValueError for a set that is not above zero.
    """
    positive(left=left)
    return _solved(section, span, "left", left)


def push_by(section: Section, span: Span, push: float) -> Push:
    """What a push of a given depth does, whether or not it leaves a set.

    Args:
        section: what is pressed [-]
        span: supports and ram [-]
        push: of the tube under the ram from the first touch, bending only [m]

    Source: as `pushed`.
    Valid: as `pushed`.
    Raises: ValueError for a push that is not above zero.
    """
    positive(push=push)
    return _solved(section, span, "push", push)


def _solved(section: Section, span: Span, figure: str, wanted: float) -> Push:
    """The push at which a figure is what is wanted; what is missing at `MOST_BENT` is a hinge."""

    def miss(bent: float) -> float:
        return float(getattr(pushed(section, span, bent), figure)) - wanted

    if (short := -miss(MOST_BENT)) > 0.0:
        hinge, most = short if figure == "kink" else 2.0 * short / span.half, pushed(section, span, MOST_BENT)
        return replace(most, push=most.push + hinge * span.half / 2.0, kink=most.kink + hinge, hinge=hinge)
    least = 1e-9 if figure == "push" else 1.0
    return pushed(section, span, float(brentq(miss, least, MOST_BENT, xtol=1e-9)))


def _integrals(section: Section, bent: float, ratio: float) -> tuple[float, float]:
    """Integrals of m / M and of its square: closed up to the yield curvature, by its logarithm beyond."""
    elastic = min(bent, 1.0)
    once, square = elastic**2 / (2.0 * ratio), elastic**3 / (3.0 * ratio**2)
    if bent > 1.0:
        half = 0.5 * log(bent)
        curvature = np.exp(half * (1.0 + _NODES))
        share, weight = section.moment_ratio(curvature) / ratio, half * _WEIGHTS * curvature
        once, square = once + float(weight @ share), square + float(weight @ share**2)
    return once, square
