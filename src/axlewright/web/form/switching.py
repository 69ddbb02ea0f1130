"""From mm to inch and back: what is typed is read in the old system and written in the new one, to the same figure."""

from __future__ import annotations

from fractions import Fraction
from math import gcd

from axlewright.errors import JobFileError
from axlewright.tasks.describing import FieldSpec
from axlewright.units import LENGTH, Kind, from_si, parse_quantity, to_si
from axlewright.web.form.typed import Typed

_TAPE_PARTS = 64
"""The finest marks a tape or a rule carries: sixty-fourths of an inch."""


def switched(typed: Typed, inch: bool) -> Typed:
    """The same in the other system; a text that carries its own unit stays, and so does one that cannot be read.

    Args:
        typed: in the system its "units" names.
        inch: the system that is wanted.
    """
    if typed.inch == inch:
        return typed
    texts = dict(typed.texts)
    for place in typed.places():
        if place.text.strip():
            texts[place.name] = _converted(place.spec, place.text, typed.inch)
    texts["units"] = "inch" if inch else "mm"
    return Typed(texts)


def _converted(spec: FieldSpec, text: str, inch: bool) -> str:
    kind = spec.quantity
    if kind is None or kind.metric == kind.inch or spec.own_unit:
        return text
    try:
        si = parse_quantity(text, kind, inch)
    except (JobFileError, OverflowError, ValueError):
        return text
    if _read(text, kind, not inch) == si:
        return text
    return written(si, kind, not inch)


def _read(text: str, kind: Kind, inch: bool) -> float | None:
    try:
        return parse_quantity(text, kind, inch)
    except (JobFileError, OverflowError, ValueError):
        return None


def written(si: float, kind: Kind, inch: bool) -> str:
    """A figure as it is typed in a system: a tape's fraction where it is exactly one, else the shortest decimal."""
    if inch and kind is LENGTH:
        parts = round(si / 0.0254 * _TAPE_PARTS)
        if parts % _TAPE_PARTS and to_si(parts / _TAPE_PARTS, kind, inch) == si:
            return _fraction(parts)
    number = from_si(si, kind, inch)
    return repr(number).removesuffix(".0")


def _fraction(parts: int) -> str:
    whole, rest = divmod(abs(parts), _TAPE_PARTS)
    common = gcd(rest, _TAPE_PARTS)
    fraction = Fraction(rest // common, _TAPE_PARTS // common)
    sign = "-" if parts < 0 else ""
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
