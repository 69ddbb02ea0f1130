"""The cells of one reading, each read into what it means, or refused in plain words."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from axlewright.errors import Fault, JobFileError, ReadingsError
from axlewright.job.fields import in_shop_units
from axlewright.job.schema import Job
from axlewright.straightness.readings.angle_text import degrees_of, sign_word
from axlewright.straightness.readings.reading import Side
from axlewright.straightness.readings.stations import Tube, refuse_off_tube, refuse_perch
from axlewright.straightness.readings.table import Row
from axlewright.straightness.readings.usual import Errors, usual_errors
from axlewright.units import LENGTH, parse_quantity, show

_DECIMAL = re.compile(r"(?<=\d),(?=\d)")
_CLOCK = re.compile(r"(1[0-2]|0?[0-9]):([0-5][0-9])(?::[0-5][0-9])?", re.ASCII)
_HOURS = re.compile(r"([0-9]{1,2}(?:\.[0-9]*)?)\s*(?:h|o'?clock)?", re.ASCII | re.IGNORECASE)
_LONGEST_NAME = 60

_MEANT = {
    "back": "rear",
    "behind": "rear",
    "ahead": "front",
    "under": "bottom",
    "below": "bottom",
    "up": "top",
}
"""Other words for the sides; they are offered, not taken."""


@dataclass(frozen=True)
class Cells:
    """One reading as written, and what is needed to understand it.

    Args:
        row: its cells.
        job: the job it belongs to.
        inch: whether bare numbers are inches.
        errors: errors that hold where the line says nothing.
    """

    row: Row
    job: Job
    inch: bool
    errors: Errors

    def word(self, column: str, known: tuple[str, ...]) -> str:
        """One of some words.

        Raises:
            ReadingsError: it is missing, or another word.
        """
        said = " ".join(self.row.get(column).casefold().replace("_", " ").split())
        if said in known:
            return said
        near = difflib.get_close_matches(said, known, n=1, cutoff=0.5)
        meant = next((word for word in (_MEANT.get(said), *near) if word in known), None)
        remedy = f'Did you mean "{meant}"?' if meant else f'Write it in column "{column}".'
        found = show(self.row.get(column)) if said else "missing"
        raise ReadingsError(Fault(column, found, f"must be {_either(known)}", remedy))

    def setup(self, usual: str) -> str:
        """Name of the set-up; `usual` where none is given.

        Raises:
            ReadingsError: it is no name.
        """
        name = " ".join(self.row.get("setup").split())
        if len(name) > _LONGEST_NAME or not name.isprintable():
            allowed = f"a name has at most {_LONGEST_NAME} printable characters"
            raise ReadingsError(Fault("setup", show(name), allowed, "Shorten it."))
        return name or usual

    def length(self, column: str, low: float, high: float) -> float:
        """A length between bounds, all in [m].

        Raises:
            ReadingsError: it is missing or beyond all sense.
            JobFileError: it cannot be read.
        """
        text = self._number(column)
        try:
            si = parse_quantity(text, LENGTH, self.inch) + 0.0
        except JobFileError as error:
            fault = error.faults[0]
            raise ReadingsError(Fault(column, fault.value, fault.allowed, fault.remedy)) from error
        if not low - 1e-9 <= si <= high + 1e-9:
            unit = LENGTH.bare_unit(self.inch)
            bounds = f"{self.shop(low).removesuffix(unit)}to {self.shop(high).removesuffix(unit).strip()}"
            remedy = f"Check the number; bare numbers are in {unit} here, one may carry its own unit: 3 mm, 1/8 in."
            raise ReadingsError(Fault(column, show(text), f"must be {bounds} {unit}", remedy))
        return si

    def station(self, column: str = "at") -> tuple[float, Tube]:
        """A distance on a tube [m], and which tube that is.

        Raises:
            ReadingsError: it is missing, or no tube is there.
        """
        text = self._number(column)
        try:
            at = self.length(column, -math.inf, math.inf)
            return at, refuse_off_tube(self.job, at, show(text))
        except ReadingsError as error:
            raise ReadingsError(*(_renamed(fault, column) for fault in error.faults)) from error

    def refuse_perch(self, at: float, side: Side | None) -> None:
        """Refuse a place where a perch stands; see `stations.refuse_perch`."""
        refuse_perch(self.job, at, side, show(self.row.get("at")))

    def degrees(self, low: float, high: float, positive: str) -> float:
        """An angle [deg] between bounds; `positive` says which way is.

        Raises:
            ReadingsError: it is missing, no angle, or too large.
        """
        text = self._number("angle")
        if word := sign_word(text):
            raise ReadingsError(_sign_in_words(text, word, positive))
        found = degrees_of(text)
        if not low <= found <= high:
            allowed = f"must be {low:g} to {high:g} deg; a bare number is degrees"
            bare = re.sub(r"\s*(?:deg\.?|degrees?|°)$", "", text)
            remedy = f'If minutes of arc are meant, write {bare}\' or "{bare} arcmin"; else measure again.'
            raise ReadingsError(Fault("angle", show(text), allowed, remedy))
        return found

    def clock(self) -> float:
        """Clock position of the high spot, above 0 to 12 [h].

        Raises:
            ReadingsError: it is missing or no clock position.
        """
        text = self._number("clock")
        if match := _CLOCK.fullmatch(text):
            hours = int(match[1]) + int(match[2]) / 60.0
        else:
            match = _HOURS.fullmatch(text)
            hours = float(match[1]) if match else math.inf
        if not hours < 13.0:
            remedy = (
                "Write the mark under the dial at its highest reading: 3, 5.5 or 5:30. 12 is top, 3 front."
            )
            raise ReadingsError(Fault("clock", show(text), "a clock position is 1 to 12", remedy))
        return round(hours % 12.0, 9) or 12.0

    def error(self, kind: str) -> float:
        """Error of a reading of a kind: what the line says, or what holds for the file; lengths in [m], else [rad].

        Raises:
            ReadingsError: it cannot be, or is no error.
        """
        if not self.row.get("error"):
            return self.errors.angle if kind == "angle" else self.errors.length(kind)
        said = self.said_error("error", kind)
        return math.radians(said) if kind == "angle" else said

    def clock_error(self) -> float:
        """Error of a clock position [h].

        Raises:
            ReadingsError: it cannot be, or is no error.
        """
        if not self.row.get("clock_error"):
            return self.errors.clock
        return round(self.said_error("clock_error", "clock") / 3600.0, 9)

    def said_error(self, column: str, kind: str) -> float:
        """An error that the line gives, in the unit of `UsualError`."""
        try:
            return usual_errors()[kind].read(self._number(column), self.inch)
        except (ReadingsError, JobFileError) as error:
            raise ReadingsError(*(_renamed(fault, column) for fault in error.faults)) from error

    def _number(self, column: str) -> str:
        """A cell with its decimal comma made a point.

        Raises:
            ReadingsError: it is empty, or its comma may mean thousands.
        """
        text = self.row.get(column)
        # Spreadsheets and phones make a dash of a minus.
        text = "-" + text[1:] if text[:1] in ("–", "—", "‒") else text
        if not text:
            kind = show(self.row.get("kind"))
            remedy = f'Write it in column "{column}", or clear the line.'
            raise ReadingsError(Fault(column, "missing", f"a reading of kind {kind} needs it", remedy))
        if self.row.decimal_comma:
            return _DECIMAL.sub(".", text)
        if _DECIMAL.search(text):
            remedy = "Write a point, 12.5, or separate the cells by semicolons."
            raise ReadingsError(Fault(column, show(text), "a comma may be decimal mark or thousands", remedy))
        return text

    def shop(self, metres: float) -> str:
        """A length in the unit of the file, for messages."""
        return in_shop_units(metres, {"inch": self.inch})


def _sign_in_words(text: str, word: str, positive: str) -> Fault:
    """The fault for a sign in words; which way it points is told by what counts as positive."""
    number = re.sub(r"[^0-9.].*", "", text.strip().lstrip("+−- ")) or "0.3"
    allowed = '"in" may be inches or inward' if word == "in" else "signs are + and - here, not words"
    remedy = f"Write {number} or -{number}, in degrees: {positive} is positive, the other way negative."
    return Fault("angle", show(text), allowed, remedy)


def _renamed(fault: Fault, column: str) -> Fault:
    return Fault(column, fault.value, fault.allowed, fault.remedy)


def _either(known: Mapping[str, object] | tuple[str, ...]) -> str:
    """Words to choose from: "top", "front" or "rear"."""
    *first, last = (f'"{word}"' for word in known)
    return f"{', '.join(first)} or {last}" if first else last
