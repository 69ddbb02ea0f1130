"""The trial file to fill in: the planned beads written out, empty quotation marks where the shop writes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import tomlkit

from axlewright.straightness.learn.trial import on_the_watch
from axlewright.straightness.learn.trial_plan import PlannedBead, TrialPlan
from axlewright.units import LENGTH, TEMPERATURE, Kind, format_deflection, format_temperature, from_si

_NOT_TRIED = {"bead_length", "tack_length", "tack_spacing"}
_HEAD = """\
# Trial on scrap tube. Write between the quotation marks, numbers as they are; leave empty what was not read.
# Mend every mark and time that was other than planned.
# Distances from the tube's left end, beads on top; round the tube: along the skin from the top, to the front plus.
# Times as on the stopwatch that starts with the first arc, minutes and seconds: "6:30".
"""


def trial_template(plan: TrialPlan, inch: bool) -> str:
    """Text of a trial file with everything planned in it.

    Args:
        plan: the plan.
        inch: whether bare numbers of the file are in inches and degF.
    """
    return _HEAD + "\n".join(_lines(plan, inch)) + "\n"


def _lines(plan: TrialPlan, inch: bool) -> Iterator[str]:
    yield f'units = "{"inch" if inch else "mm"}"'
    yield '\n[trial]\nname = "trial on scrap tube"\ndate = ""\nnotes = ""'
    yield f"\n[tube]\n{_table(plan.tube.model_dump(context={'inch': inch}))}"
    yield f"\n[welder]\n{_table(plan.welder.model_dump(exclude_none=True, exclude=_NOT_TRIED, context={'inch': inch}))}"
    yield f'\n[bend]\nby = "{plan.way}"\n{_before(plan, inch)}'
    for bead in plan.beads:
        yield from _bead(plan, bead, inch)
    yield f"\n[thermometer]\nat = {_number(plan.spot.at, LENGTH, inch)}"
    yield f"round = {_number(plan.spot.around, LENGTH, inch)}"
    for one in plan.temperatures:
        expected = format_temperature(one.expected.middle, inch)
        yield f'\n[[temperature]]\ntime = "{on_the_watch(one.time)}"'
        yield f'reading = ""  # {_unit(TEMPERATURE, inch)}, about {expected} expected'


def _before(plan: TrialPlan, inch: bool) -> str:
    if plan.way == "dial":
        return f"before = 0  # {_unit(LENGTH, inch)}, dial before the first arc"
    return f'before = ""  # {_unit(LENGTH, inch)}, gap before the first arc'


def _bead(plan: TrialPlan, bead: PlannedBead, inch: bool) -> Iterator[str]:
    yield "\n[[bead]]"
    if bead.at is not None:
        yield f"at = {_number(bead.at, LENGTH, inch)}  # round the tube here"
    yield f"from = {_number(bead.start, LENGTH, inch)}"
    yield f"to = {_number(bead.end, LENGTH, inch)}"
    planned = f"  # planned {on_the_watch(bead.arc_start)}" if bead.number > 1 else ""
    yield f'start = "{"0:00" if bead.number == 1 else ""}"{planned}'
    yield f'arc_seconds = ""  # about {bead.arc_seconds:.0f} s planned'
    yield f'read_at = ""  # planned {on_the_watch(bead.read_at)}'
    expected = format_deflection(bead.bend.middle, inch)
    what = "more" if plan.way == "dial" else "less"
    yield f'reading = ""  # {_unit(LENGTH, inch)}, about {expected} {what} than before the first arc expected'


def _number(si: float, kind: Kind, inch: bool) -> str:
    return f"{from_si(round(si, kind.digits), kind, inch):.12g}"


def _unit(kind: Kind, inch: bool) -> str:
    return kind.bare_unit(inch)


def _table(values: dict[str, Any]) -> str:
    return tomlkit.dumps(values).strip()
