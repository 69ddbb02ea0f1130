"""The plan a log is held against: the steps of a report, or of a plan.json."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from axlewright.errors import Fault, LogError
from axlewright.plan.pieces import PlannedBead
from axlewright.plan.replan.names import Names
from axlewright.plan.timeline import Step

NEAR = 2e-3
"""How far the marks of a bead in plan.json may be from those of the job [m]."""

_REMEDY = "Plan the job again, or leave the option out."


def steps_of_report(names: Names, beads: tuple[PlannedBead, ...]) -> tuple[Step, ...]:
    """The steps behind the beads of a report made from the same job."""
    number = {
        (bead.seam, round(1e6 * bead.start), round(1e6 * bead.end)): n
        for n, bead in enumerate(names.assembly.beads)
    }
    steps = []
    for bead in beads:
        seam = names.seam(bead.attachment, bead.seam)
        assert seam is not None
        low, high = sorted((bead.from_s, bead.to_s))
        found = number[seam, round(1e6 * low), round(1e6 * high)]
        steps.append(Step(found, bead.from_s > bead.to_s, bead.wait_s, bead.turn_deg))
    return tuple(steps)


def read_plan_json(names: Names, path: Path) -> tuple[Step, ...]:
    """The steps of a plan.json on disk; see `steps_of_plan_json`.

    Raises:
        LogError: it cannot be read, is no plan.json, or is of another job.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it is not UTF-8 text"
        raise LogError(Fault(str(path), "unreadable", reason, _REMEDY)) from error
    return steps_of_plan_json(names, text, str(path))


def steps_of_plan_json(names: Names, text: str, source: str) -> tuple[Step, ...]:
    """The steps of a plan.json of the same job.

    Args:
        names: the job's beads by name.
        text: contents of the file.
        source: stands for the file in messages.

    Raises:
        LogError: it is no plan.json, or of another job.
    """
    try:
        entries = json.loads(text)["beads"]
        steps = [_step(names, entry) for entry in entries]
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise LogError(Fault(source, "", "must be a plan.json as this program writes it", _REMEDY)) from error
    beads = [step.bead for step in steps if step is not None]
    if sorted(beads) != list(range(len(names.assembly.beads))):
        allowed = f"must have each of the {len(names.assembly.beads)} beads of this job once"
        raise LogError(Fault(source, f"a plan of {len(entries)} beads", allowed, _REMEDY))
    return tuple(step for step in steps if step is not None)


def _step(names: Names, entry: dict[str, Any]) -> Step | None:
    """A bead of the file by its marks; None where the job has none there."""
    wait, turn = float(entry["wait_s"]), float(entry.get("turn_deg", 0.0))
    seam = names.seam(str(entry["attachment"]), str(entry["seam"]))
    away = []
    for bead, piece in enumerate(names.assembly.beads):
        if piece.seam != seam:
            continue
        for reverse, (begin, end) in enumerate(((piece.start, piece.end), (piece.end, piece.start))):
            away.append((_away(names, entry, seam, begin, end), bead, bool(reverse)))
    distance, bead, reverse = min(away, default=(NEAR + 1.0, 0, False))
    return Step(bead, reverse, wait, turn) if distance <= NEAR else None


def _away(names: Names, entry: dict[str, Any], seam: int, begin: float, end: float) -> float:
    """How far a bead's ends are from those of an entry [m]; along the seam where the file tells that."""
    if "from_s_mm" in entry:
        marks = (1e-3 * float(entry["from_s_mm"]), 1e-3 * float(entry["to_s_mm"]))
        return max(abs(marks[0] - begin), abs(marks[1] - end))
    gaps = []
    for mark, s in (("from", begin), ("to", end)):
        gap = abs(1e-3 * float(entry[f"{mark}_mm"]) - names.distance_of(seam, s))
        hour = entry.get(f"{mark}_clock")
        line = names.assembly.seams[seam]
        if hour is not None and line.clock is not None:
            own = float(line.at(line.clock, np.array(s))) % 12.0
            turn = abs((own - float(hour) + 6.0) % 12.0 - 6.0)
            gap += turn / 12.0 * line.length
        gaps.append(gap)
    return max(gaps)
