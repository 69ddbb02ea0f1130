"""Marks on a seam as a person writes them: tape reading, clock position, or distance along the seam."""

from __future__ import annotations

import re

import numpy as np

from axlewright.errors import Fault, JobFileError
from axlewright.plan.bead_words import runs_along_axle
from axlewright.plan.replan.names import Names
from axlewright.units import LENGTH, format_clock, format_length, parse_quantity, show

_CLOCK = re.compile(r"\s*(1[0-2]|0?[0-9])\s*:\s*([0-5][0-9])\s*(?:o'clock)?\s*", re.IGNORECASE)
_ALONG = re.compile(r"\s*seam\s+(.*)", re.IGNORECASE)

OFF = 0.003
"""How far beyond the end of a seam a mark may lie: tapes and eyes are no better [m]."""


def read_mark(names: Names, seam: int, text: str, inch: bool, near: float | None = None) -> float:
    """Arc length along a seam of a mark [m].

    Args:
        names: the job's names.
        seam: number of the seam.
        text: the mark; "seam 40" counts along the seam from its start, whatever the seam.
        inch: whether bare numbers are inches.
        near: where on the seam it is expected, for seams that close on themselves [m].

    Raises:
        JobFileError: it cannot be read, or lies beyond the seam.
    """
    line = names.assembly.seams[seam]
    if along := _ALONG.fullmatch(text):
        found = parse_quantity(along[1], LENGTH, inch)
    elif line.clock is not None:
        found = _at_clock(names, seam, text, near)
    elif runs_along_axle(names.lines[seam]):
        found = _at_distance(names, seam, parse_quantity(text, LENGTH, inch))
    else:
        found = parse_quantity(text, LENGTH, inch)
    if not -OFF <= found <= line.length + OFF:
        allowed = f"the seam is {format_length(line.length, inch)} long"
        raise JobFileError(Fault("mark", show(text), allowed, "Check the mark, and which seam it is on."))
    return float(np.clip(found, 0.0, line.length))


def _at_clock(names: Names, seam: int, text: str, near: float | None) -> float:
    line = names.assembly.seams[seam]
    match = _CLOCK.fullmatch(text)
    if match is None or line.clock is None:
        remedy = 'Write the clock position, e.g. "5:30", or "seam" and the distance along it.'
        raise JobFileError(Fault("mark", show(text), "places on a guard are clock positions", remedy))
    wanted = (int(match[1]) + int(match[2]) / 60.0) % 12.0
    clocks, arc = np.asarray(line.clock), line.arc
    turns = np.arange(np.floor(clocks.min() / 12.0) - 1, np.ceil(clocks.max() / 12.0) + 1)
    hours = [wanted + 12.0 * turn for turn in turns]
    inside = [hour for hour in hours if clocks.min() - 0.02 <= hour <= clocks.max() + 0.02]
    if not inside:
        first, last = (format_clock(float(clock)) for clock in (clocks.min(), clocks.max()))
        raise JobFileError(
            Fault("mark", show(text), f"the seam runs from {first} to {last}", "Check the clock position.")
        )
    order = np.argsort(clocks)
    found = [float(np.interp(hour, clocks[order], arc[order])) for hour in inside]
    return found[0] if near is None else min(found, key=lambda s: abs(s - near))


def _at_distance(names: Names, seam: int, distance: float) -> float:
    """Arc length at a tape reading; a little beyond either end counts on straight."""
    line = names.assembly.seams[seam]
    reading = names.half_length - line.path[:, 0]
    order = np.argsort(reading, kind="stable")
    beyond = distance - float(np.clip(distance, reading.min(), reading.max()))
    s = float(np.interp(distance, reading[order], line.arc[order]))
    return s + (beyond if reading[-1] > reading[0] else -beyond)
