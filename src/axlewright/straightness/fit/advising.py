"""The reading to take next: what settles most of what is not told, or too wide for the verdict."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import ANGLES, PLANES, AxisFit
from axlewright.straightness.fit.catalogue import Package, catalogue
from axlewright.straightness.fit.equations import Ground
from axlewright.straightness.fit.figures import BAND, Line, line_of
from axlewright.straightness.fit.fitting import ShapeFit, only_totals
from axlewright.straightness.fit.judging import limit_checks
from axlewright.straightness.fit.priors import KNOWN, shape_prior
from axlewright.straightness.fit.system import equation_of
from axlewright.straightness.readings.reading import Runout
from axlewright.straightness.readings.stations import SIDES, open_sides
from axlewright.straightness.report import Advice, LimitCheck
from axlewright.units import format_length

_MOST = 2
_SAFELY = 0.9
"""Share of the limit of what counts as told that advice aims for."""

_PER_READING = 0.03
"""What a reading must gain to be worth taking, as a share of a standard deviation."""

_WORTH = 0.2
"""Least gain of a package, in the same measure."""

_OPEN = 0.5
"""What it is worth to settle a figure, however little it is too wide."""

_AT_MOST = 3.0
"""How many times narrower a band may be asked for; a figure right at its limit can never be told."""

_NAMES = ("camber left", "camber right", "toe left", "toe right", "twist")
_BOWS = ("the vertical bow", "the fore-aft bow")


@dataclass(frozen=True)
class _Want:
    """A figure that ought to be known better.

    Args:
        name: what it is called.
        rows: on the parameters, shape (n, 11).
        target: standard deviation wanted of each, shape (n,).
        settles: whether it is settled once it is known as well as that.
    """

    name: str
    rows: Floats
    target: Floats
    settles: bool = True

    def need(self, covariance: Floats) -> float:
        """Logarithm of how many times too wide it is, and something for being so at all; 0 where it is good enough."""
        spread = np.sqrt(np.einsum("ni,ij,nj->n", self.rows, covariance, self.rows))
        wide = float(np.max(np.log(spread / self.target)))
        return wide + _OPEN if wide > 0.0 else 0.0


def advice_on(fit: ShapeFit) -> tuple[Advice, ...]:
    """The one or two packages of readings that settle most, as instructions; empty where nothing is missing."""
    found = tuple(Advice(package.words, why) for package, why in best_packages(fit))
    return found + (_tell_oval(fit.job, fit) if only_totals(fit.readings) else ())


def best_packages(fit: ShapeFit) -> list[tuple[Package, str]]:
    """The packages to read next, one after the other, each with what it settles."""
    wants, axis = _wants(fit), fit.axis
    if not wants:
        return []
    ground = Ground(fit.job)
    informed = [(package, information_of(ground, package)) for package in catalogue(fit.job)]
    chosen: list[tuple[Package, str]] = []
    while len(chosen) < _MOST:
        before = [want.need(axis.covariance) for want in wants]
        outcomes = [(package, knowing_more(axis, information)) for package, information in informed]
        gains = [
            sum(before) - sum(want.need(after.covariance) for want in wants) - _trouble(package, fit)
            for package, after in outcomes
        ]
        package, after = outcomes[int(np.argmax(gains))]
        if max(gains) < _WORTH:
            break
        chosen.append((package, _why(wants, axis, after)))
        axis = after
    return chosen


def _trouble(package: Package, fit: ShapeFit) -> float:
    """What a package costs, in the measure of what it gains; less where the shop has used such a gauge."""
    familiar = any(type(one) is type(package.readings[0]) for one in fit.readings)
    return _PER_READING * len(package.readings) + (0.0 if familiar else package.unhandy)


def _wants(fit: ShapeFit) -> list[_Want]:
    """Figures that are not told, and those whose band lies across a limit."""
    axis, angles = fit.axis, fit.axis.span.angles()
    checks = {check.name: check for check in limit_checks(fit.job, axis)}
    wants = [
        _want(axis, name, angles[[number]], checks.get(name))
        for number, name in enumerate(_NAMES[: len(ANGLES)])
    ]
    for name, plane, way in zip(_BOWS, PLANES, ("up", "forward"), strict=True):
        line = line_of(axis, plane)
        wants.append(_want(axis, name, _rows(line), checks.get(f"bow {way}")))
    return [want for want in wants if want.need(axis.covariance) > 0.0]


def _rows(line: Line) -> Floats:
    return line.rows[1:-1]


def _want(axis: AxisFit, name: str, rows: Floats, check: LimitCheck | None) -> _Want:
    """What is wanted of a figure: to be told at all, and to lie clearly on one side of its limit."""
    without = np.sqrt(np.einsum("ni,i->n", rows**2, shape_prior() ** 2))
    known = _Want(name, rows, KNOWN * without)
    told = known.need(axis.covariance) == 0.0
    settles = True
    target = (KNOWN if told else _SAFELY * KNOWN) * without
    if check is not None and check.answer == "cannot be told":
        unit = np.pi / 180.0 if check.unit == "deg" else 1.0
        half = unit * (check.figure.high - check.figure.low) / 2.0
        margin = unit * abs(abs(check.figure.value - check.wanted) - check.limit)
        aim = max(margin, half / _AT_MOST) if told else unit * check.limit / 2.0
        settles = not told or margin >= half / _AT_MOST
        target = np.minimum(target, aim / BAND)
    return replace(known, target=target, settles=settles)


def information_of(ground: Ground, package: Package) -> Floats:
    """What a package tells of the parameters, its set-up's unknowns taken out, shape (11, 11).

    For readings A p + N u + errors R with u of prior covariance D: A' (R + N D N')^-1 A.
    """
    equations = [equation_of(ground, reading) for reading in package.readings]
    rows = np.vstack([equation.shape for equation in equations])
    unknowns = {unknown: n for n, unknown in enumerate(dict.fromkeys(u for e in equations for u in e.setup))}
    setup, covariance = np.zeros((len(rows), len(unknowns))), np.zeros((len(rows), len(rows)))
    begin = 0
    for equation in equations:
        own = slice(begin, begin + len(equation.value))
        covariance[own, own] = equation.covariance
        for unknown, coefficients in equation.setup.items():
            setup[own, unknowns[unknown]] = unknown.prior * coefficients
        begin = own.stop
    return rows.T @ np.linalg.solve(covariance + setup @ setup.T, rows)


def knowing_more(axis: AxisFit, information: Floats) -> AxisFit:
    """The same shape with what a package adds to how well it is known."""
    scale = shape_prior()
    known = np.linalg.inv(axis.covariance / np.outer(scale, scale))
    covariance = np.linalg.inv(known + information * np.outer(scale, scale)) * np.outer(scale, scale)
    return replace(axis, covariance=covariance)


def _why(wants: list[_Want], before: AxisFit, after: AxisFit) -> str:
    """What a package settles and what it narrows."""
    needs = [(want, want.need(before.covariance), want.need(after.covariance)) for want in wants]
    settled = [want.name for want, had, has in needs if want.settles and had > 0.0 and has == 0.0]
    narrowed = [want.name for want, had, has in needs if want.name not in settled and had - has > _WORTH]
    parts = [f"settles {_listed(settled)}"] if settled else []
    parts += [f"narrows {_listed(narrowed)}"] if narrowed else []
    words = " and ".join(parts)
    return f"It {words}." if words else "It helps with what is not told."


def _listed(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _tell_oval(job: Job, fit: ShapeFit) -> tuple[Advice, ...]:
    """Four readings of the dial where totals were read, or a caliper where something welded on is in the dial's way."""
    totals = [one for one in fit.readings if isinstance(one, Runout)]
    at = max(totals, key=lambda one: one.total).at
    place = f"At {format_length(at, job.inch)} from the left flange"
    if len(open_sides(job, at)) < len(SIDES):
        words = f"{place} also measure the tube's diameter up and down, and fore and aft, with a caliper."
        return (Advice(words, "A dial's total cannot tell an oval tube from a bent one; two diameters can."),)
    words = f"{place} also read the dial with 12, 3, 6 and 9 under it."
    return (Advice(words, "A total alone cannot tell an oval tube from a bent one; four readings can."),)
