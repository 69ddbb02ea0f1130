"""The usual error of each kind of reading, kept in `usual_errors.toml` with the reason for each."""

from __future__ import annotations

import difflib
import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files

from axlewright.errors import Fault, JobFileError, ReadingsError
from axlewright.straightness.readings.angle_text import degrees_of
from axlewright.units import ANGLE, LENGTH, TIME, Kind, from_si, parse_quantity, show

_KINDS: Mapping[str, Kind] = {"clock": TIME, "angle": ANGLE, "beam": ANGLE}
"""Errors that are no lengths. That of a clock position is told in minutes on the clock face, so 60 to the hour."""


@dataclass(frozen=True)
class UsualError:
    """The usual error of one kind, in SI: [m], angles in [deg], clock positions in [s] of the clock face.

    Args:
        what: which gauge it is the error of.
        error: one standard deviation.
        low: least that a file may say instead.
        high: most.
        reason: why so much; common practice, not published.
        kind: quantity it is in.
    """

    what: str
    error: float
    low: float
    high: float
    reason: str
    kind: Kind

    def read(self, text: str, inch: bool) -> float:
        """An error written instead of the usual one, in the same unit as `error`.

        Raises:
            ReadingsError: it is no number, or one beyond all sense.
            JobFileError: it cannot be read.
        """
        plain = text.lstrip("±+ ")
        if self.kind is TIME and plain.replace(".", "", 1).isdigit():
            plain += " min"
        found = degrees_of(plain) if self.kind is ANGLE else parse_quantity(plain, self.kind, inch)
        if not self.low <= found <= self.high:
            allowed = f"one standard deviation must be {self._shop(self.low, inch)} to {self._shop(self.high, inch)}"
            remedy = f"Leave it out for the usual {self._shop(self.error, inch)}."
            raise ReadingsError(Fault("error", show(text), allowed, remedy))
        return found

    def _shop(self, value: float, inch: bool) -> str:
        if self.kind is TIME:
            return f"{value / 60.0:g} min"
        return f"{from_si(value, self.kind, inch):.3g} {self.kind.bare_unit(inch)}"


def usual_errors() -> dict[str, UsualError]:
    """The usual errors by kind: gap, string, height, runout, clock, four-point, angle, toe, dot, beam."""
    return dict(_USUAL)


def _from_table(name: str, table: dict[str, str]) -> UsualError:
    kind = _KINDS.get(name, LENGTH)
    error, low, high = (parse_quantity(table[key], kind, False) for key in ("error", "low", "high"))
    return UsualError(table["what"], error, low, high, table["reason"], kind)


_USUAL = {
    name: _from_table(name, table)
    for name, table in tomllib.loads(
        files("axlewright.straightness.readings").joinpath("usual_errors.toml").read_text(encoding="utf-8")
    ).items()
}


@dataclass(frozen=True)
class Errors:
    """The errors that hold for one file: the usual ones, or what the file says instead."""

    by_kind: Mapping[str, float]

    def length(self, kind: str) -> float:
        """Error of a kind of length [m]."""
        return self.by_kind[kind]

    @property
    def angle(self) -> float:
        """Error of an angle finder [rad]."""
        return math.radians(self.by_kind["angle"])

    @property
    def clock(self) -> float:
        """Error of a clock position [h]."""
        return round(self.by_kind["clock"] / 3600.0, 9)

    def dot(self, distance: float) -> float:
        """Error of a laser's dot at a distance [m]: how it is read, and how square the laser stands."""
        beam = distance * math.tan(math.radians(self.by_kind["beam"]))
        return round(math.hypot(self.by_kind["dot"], beam), LENGTH.digits)


def errors_with(overrides: Mapping[str, str], inch: bool) -> tuple[Errors, list[Fault]]:
    """The errors of a file that says otherwise for some kinds, and what is wrong with what it says."""
    by_kind, faults = {name: usual.error for name, usual in _USUAL.items()}, []
    for name, text in overrides.items():
        plain = name.strip().casefold().replace("_", "-").replace(" ", "-")
        if plain not in _USUAL:
            near = difflib.get_close_matches(plain, _USUAL, n=1, cutoff=0.5)
            remedy = f'Did you mean "{near[0]}"?' if near else f"Known: {', '.join(_USUAL)}."
            faults.append(Fault(name, "", "no kind of reading has this name", remedy))
            continue
        try:
            by_kind[plain] = _USUAL[plain].read(text, inch)
        except (JobFileError, ReadingsError) as error:
            faults += [Fault(name, fault.value, fault.allowed, fault.remedy) for fault in error.faults]
    return Errors(by_kind), faults
