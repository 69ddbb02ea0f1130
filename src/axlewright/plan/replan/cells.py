"""The cells of one line of a log, each read into what it means, or refused in plain words."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass

from axlewright.errors import Fault, LogError
from axlewright.plan.replan.events import Setting
from axlewright.plan.replan.marks import read_mark
from axlewright.plan.replan.names import Names
from axlewright.plan.replan.rows import Row
from axlewright.units import (
    CURRENT,
    SPEED,
    TEMPERATURE,
    VOLTAGE,
    WIRE_FEED,
    Kind,
    from_si,
    parse_quantity,
    show,
)

_SETTINGS: dict[Setting, tuple[Kind, float, float]] = {
    "volts": (VOLTAGE, 8.0, 50.0),
    "amps": (CURRENT, 20.0, 500.0),
    "travel speed": (SPEED, 40.0 / 60e3, 2000.0 / 60e3),
    "wire feed": (WIRE_FEED, 0.05 / 60, 25.0 / 60),
}
"""What may be set, in which unit and between which bounds (as in the job file), in SI."""

ASTRAY = 0.15
"""How far beyond its bead a mark may lie before it must be a slip [m]."""

_DECIMAL = re.compile(r"(?<=\d),(?=\d)")


@dataclass(frozen=True)
class Cells:
    """One line of a log and what it is about.

    Args:
        row: the line.
        names: the job's beads, tacks and places.
        inch: whether bare numbers are in inches and degF.
    """

    row: Row
    names: Names
    inch: bool

    def names_bead(self) -> bool:
        """Whether the line names a bead or a seam."""
        return any(self.row.get(column) for column in ("bead", "attachment", "seam"))

    def bead(self) -> tuple[int, float | None, float | None]:
        """The bead, and the marks given: where the arc started and where it ended [m].

        Raises:
            LogError: there is no such bead, or its marks are not on it.
            JobFileError: a mark cannot be read.
        """
        if self.row.get("bead"):
            bead = self._tagged()
            marks = [self._mark(column, bead) for column in ("from", "to")]
        else:
            bead, *marks = self._placed()
        for column, mark in zip(("from", "to"), marks, strict=True):
            self._check_near(column, bead, mark)
        return bead, marks[0], marks[1]

    def _tagged(self) -> int:
        tag = self.row.get("bead")
        bead = self.names.bead(tag)
        if bead is None:
            near = difflib.get_close_matches(tag.upper(), self.names.tags, n=3, cutoff=0.3)
            known = f"this job has {_runs(self.names.tags)}"
            remedy = f"Did you mean {' or '.join(near)}?" if near else "See the bead table."
            raise LogError(Fault("bead", show(tag), known, remedy))
        for column, is_it in (("attachment", "attachment"), ("seam", "name")):
            said = self.row.get(column)
            meant = getattr(self.names.assembly.seams[self.names.assembly.beads[bead].seam], is_it)
            if said and said.casefold() != meant.casefold():
                allowed = f"{self.names.tags[bead]} is on {show(meant)}"
                raise LogError(Fault(column, show(said), allowed, "Mend one of the two, or leave one out."))
        return bead

    def _placed(self) -> tuple[int, float | None, float | None]:
        """A bead by attachment, seam and mark."""
        seam = self._seam()
        if not self.row.get("from"):
            remedy = 'Write the mark it starts at in column "from", or its name in column "bead".'
            raise LogError(Fault("bead", "missing", "a line must say which bead it is about", remedy))
        begin = read_mark(self.names, seam, self._number("from"), self.inch)
        end = (
            read_mark(self.names, seam, self._number("to"), self.inch, begin) if self.row.get("to") else None
        )
        bead = self.names.bead_at(seam, begin, end)
        if bead is None:
            allowed = "no bead is planned at this mark"
            raise LogError(Fault("from", show(self.row.get("from")), allowed, "Check mark, seam and side."))
        return bead, begin, end

    def _seam(self) -> int:
        attachment, name = self.row.get("attachment"), self.row.get("seam")
        seam = self.names.seam(attachment, name)
        if seam is None:
            known = {f"{s.attachment} / {s.name}": None for s in self.names.assembly.seams}
            said = f"{attachment} / {name}" if attachment or name else ""
            near = difflib.get_close_matches(said, known, n=1, cutoff=0.4)
            remedy = f'Did you mean "{near[0]}"?' if near else f"Known: {'; '.join(known)}."
            allowed = "attachment and seam must be those of the job, or the bead's name is given"
            raise LogError(Fault("seam", show(said) if said else "missing", allowed, remedy))
        return seam

    def _mark(self, column: str, bead: int) -> float | None:
        if not self.row.get(column):
            return None
        piece = self.names.assembly.beads[bead]
        near = (piece.start + piece.end) / 2
        return read_mark(self.names, piece.seam, self._number(column), self.inch, near)

    def _check_near(self, column: str, bead: int, mark: float | None) -> None:
        if mark is None:
            return
        piece = self.names.assembly.beads[bead]
        seam = self.names.assembly.seams[piece.seam]
        away = [
            max(piece.start - at, at - piece.end)
            for at in (mark, *((mark + seam.length, mark - seam.length) if seam.closed else ()))
        ]
        if min(away) > ASTRAY:
            allowed = f"is {min(away) * 1e3:.0f} mm away from bead {self.names.tags[bead]}"
            raise LogError(Fault(column, show(self.row.get(column)), allowed, "Check the mark and the bead."))

    def tack(self) -> int:
        """Number of the tack in the order of tacking, from 0.

        Raises:
            LogError: there is no such tack.
        """
        tack = self.names.tack(self.row.get("bead"))
        if tack is None:
            allowed = f'column "bead" names the tack, T1 to T{len(self.names.tacks)}'
            raise LogError(Fault("bead", show(self.row.get("bead")), allowed, "See the tack table."))
        return tack

    def read_at(self) -> tuple[int | None, int | None]:
        """The stretch or the watch place a thermometer was held to.

        Raises:
            LogError: there is no such place.
            JobFileError: a mark cannot be read.
        """
        if self.names_bead():
            return self._read_on_seam(), None
        name = self.row.get("what")
        place = self.names.place(name)
        if place is None:
            allowed = f"a reading is at a bead, at a mark on a seam, or at {', '.join(self.names.places)}"
            near = difflib.get_close_matches(name.casefold(), self.names.places, n=1, cutoff=0.5)
            remedy = f'Did you mean "{near[0]}"?' if near else 'Name the bead in column "bead".'
            raise LogError(Fault("what", show(name) if name else "missing", allowed, remedy))
        return None, place

    def _read_on_seam(self) -> int:
        """A bead alone stands for the spot where it starts; a mark for the skin beside the seam there."""
        if self.row.get("bead"):
            bead = self._tagged()
            seam, mark = self.names.assembly.beads[bead].seam, self._mark("from", bead)
            begin, end = self.names.ends(bead)
            if mark is None:
                return self.names.stretch_at(seam, begin + 1e-4 * (1 if end > begin else -1))
            return self.names.stretch_at(seam, mark)
        seam = self._seam()
        if not self.row.get("from"):
            remedy = 'Write the mark in column "from".'
            raise LogError(Fault("from", "missing", "a reading on a seam needs its mark", remedy))
        return self.names.stretch_at(seam, read_mark(self.names, seam, self._number("from"), self.inch))

    def temperature(self) -> float:
        """What a thermometer showed [degC]."""
        return self._quantity("value", TEMPERATURE, -60.0, 1000.0)

    def ambient(self) -> float:
        """The air's temperature [degC]."""
        return self._quantity("value", TEMPERATURE, -30.0, 60.0)

    def reading_error(self) -> float | None:
        """What nineteen readings of twenty are within [K], or None where nothing is said."""
        text = self._number("error").lstrip("±+ ")
        if not text:
            return None
        # A difference has no offset: 9 degF of error are 5 K.
        nought = parse_quantity(re.sub(r"[0-9.]+", "0", text, count=1), TEMPERATURE, self.inch)
        error = round(parse_quantity(text, TEMPERATURE, self.inch) - nought, 6)
        if not 0.1 <= error <= 100.0:
            allowed = "must be 0.1 to 100 degC" if not self.inch else "must be 0.2 to 180 degF"
            raise LogError(Fault("error", show(text), allowed, "Leave it out if you do not know."))
        return error

    def setting(self) -> tuple[Setting, float]:
        """What was set to what, in SI.

        Raises:
            LogError: there is no such setting.
            JobFileError: the value cannot be read.
        """
        said = " ".join(self.row.get("what").casefold().split())
        for setting, bounds in _SETTINGS.items():
            if said == setting:
                return setting, self._quantity("value", *bounds)
        near = difflib.get_close_matches(said, _SETTINGS, n=1, cutoff=0.5)
        remedy = f'Did you mean "{near[0]}"?' if near else 'Write it in column "what".'
        allowed = f"a setting is one of {', '.join(_SETTINGS)}"
        raise LogError(Fault("what", show(said) if said else "missing", allowed, remedy))

    def turn(self) -> float:
        """How the housing lies [deg].

        Raises:
            LogError: it is no angle.
        """
        text = self._number("value").removesuffix("deg").removesuffix("°").strip()
        try:
            turn = float(text)
        except ValueError:
            turn = -1.0
        if not 0.0 <= turn < 360.0:
            remedy = "Write 0 for as on the vehicle, 90 for front side up."
            raise LogError(Fault("value", show(text), "a turn is 0 to below 360 degrees", remedy))
        return turn

    def _number(self, column: str) -> str:
        """A cell with its decimal comma made a point, where commas do not separate cells."""
        text = self.row.get(column)
        return _DECIMAL.sub(".", text) if self.row.decimal_comma else text

    def _quantity(self, column: str, kind: Kind, low: float, high: float) -> float:
        text = self._number(column)
        if not text:
            remedy = f'Write the number in column "{column}".'
            raise LogError(Fault(column, "missing", f"this event needs a {kind.name}", remedy))
        try:
            si = parse_quantity(text, kind, self.inch)
        except (OverflowError, ValueError) as error:
            raise LogError(
                Fault(column, show(text), "is no number", f"Write a {kind.name} in numbers.")
            ) from error
        if not low <= si <= high:
            bounds = " to ".join(f"{from_si(edge, kind, self.inch):.4g}" for edge in (low, high))
            unit = kind.bare_unit(self.inch)
            raise LogError(
                Fault(column, show(text), f"must be {bounds} {unit}", "Check the number and its unit.")
            )
        return si


def _runs(tags: tuple[str, ...]) -> str:
    """Tags in short: "A1 to A18, B1 to B18"."""
    seams: dict[str, list[str]] = {}
    for tag in tags:
        seams.setdefault(tag.rstrip("0123456789"), []).append(tag)
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in seams.values())
