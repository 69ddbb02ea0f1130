"""Where a job stands is worked out from what was told, and from nothing else."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest

from axlewright.record.events import Event
from axlewright.record.kinds import KINDS, subject
from axlewright.record.stages import hold_points, stages
from axlewright.record.state import State, state_of, still_counting

MORNING = datetime(2026, 3, 14, 8, 0, tzinfo=UTC)


class Telling:
    """A record in memory: every call adds one event and gives its number."""

    def __init__(self) -> None:
        self.events: list[Event] = []

    def tell(self, kind: str, amends: int | None = None, **body: Any) -> int:
        """Add an event."""
        number = len(self.events) + 1
        told = Event("j", number, kind, "Ann", "", MORNING, MORNING, str(number), body, amends=amends)
        self.events.append(told)
        return number

    def job_file(self) -> int:
        """Tell a job file."""
        return self.tell("job file", name="Truck", reference="", units="mm")

    def readings(self, which: str, amends: int | None = None) -> int:
        """Tell readings."""
        return self.tell("readings", amends, set=which, used=5, refused=0)

    def done(self, stage: str, done: bool = True) -> int:
        """Say a stage is done, or not."""
        return self.tell("stage", stage=stage, done=done, note="")

    def check(self, after: int, answer: str) -> int:
        """Tell a check of readings."""
        stands_on = {"job_file": 1, "before": None, "after": after, "plan": None, "check": None}
        return self.tell("check", stands_on=stands_on, answer=answer, words="")

    def sign(self, name: str, found: bool = True) -> int:
        """Sign a hold point as things stand."""
        point, latest = hold_points()[name], self.state.latest
        covers = {part: latest[part].number if part in latest else 0 for part in point.covers}
        items = [{"words": words, "found": found, "note": ""} for words in point.items]
        return self.tell("sign-off", hold_point=name, items=items, covers=covers, note="")

    @property
    def state(self) -> State:
        """Where the job stands."""
        return state_of(self.events)

    def status(self, stage: str) -> str:
        """Status of a stage."""
        return next(one.status for one in self.state.stages if one.plan.name == stage)


@pytest.fixture
def record() -> Telling:
    """A job that was just taken in."""
    telling = Telling()
    telling.job_file()
    return telling


def through_intake(record: Telling) -> None:
    """Measure, sign and finish intake."""
    record.readings("before")
    record.sign("baseline")
    record.done("intake")


@pytest.mark.common_practice
def test_stages_are_those_of_the_trade_in_their_order():
    """A job goes from intake to hand-over by the ten stages of the trade."""
    names = [stage.name for stage in stages()]
    assert names == [
        *("intake", "strip", "fit-up", "tack", "weld", "check", "correct", "finish", "set-up", "hand-over")
    ]


def test_a_new_job_waits_for_its_baseline(record: Telling):
    """A job just taken in is at intake and waits for straightness before any work, and for a signature."""
    assert record.state.stage.plan.name == "intake"
    assert record.state.blocks == ("Measure straightness before any work", 'Sign the hold point "baseline"')


def test_a_stage_is_done_only_when_said_and_signed(record: Telling):
    """Saying that intake is done does not do it while its hold point is unsigned."""
    record.readings("before")
    record.done("intake")
    assert record.status("intake") == "here"
    record.sign("baseline")
    assert record.status("intake") == "done"
    assert record.status("strip") == "here"


def test_a_line_not_found_so_holds_the_stage(record: Telling):
    """A hold point signed with a line not found so holds, and says so."""
    record.readings("before")
    record.sign("baseline", found=False)
    record.done("intake")
    assert record.status("intake") == "here"
    assert record.state.blocks == ('Not every line of "baseline" was found so',)


def test_a_later_change_shows_on_the_signature(record: Telling):
    """What changes after a hold point is signed is listed with it, and it must be signed again."""
    through_intake(record)
    changed = record.readings("before")
    signed = record.state.stages[0].signed
    assert signed is not None
    assert [event.number for event in signed.changes] == [changed]
    assert record.status("intake") == "here"
    assert record.state.blocks == ('Sign "baseline" again: what it covers was changed',)
    record.sign("baseline")
    assert record.status("intake") == "done"


def test_taking_back_what_was_signed_shows_too(record: Telling):
    """Withdrawing the readings a signature covers is a change like any other."""
    readings = record.readings("before")
    record.sign("baseline")
    taken_back = record.tell("withdrawal", readings, words="wrong axle")
    signed = record.state.stages[0].signed
    assert signed is not None
    assert [event.number for event in signed.changes] == [taken_back]
    assert "readings before" not in record.state.latest


def test_an_amended_event_stays_but_no_longer_counts(record: Telling):
    """An amendment takes the place of what it amends; the record keeps both."""
    first = record.readings("before")
    second = record.readings("before", amends=first)
    assert record.state.number_of("readings before") == second
    assert first not in [event.number for event in record.state.counting]
    assert first in [event.number for event in record.state.events]


def test_a_withdrawal_taken_back_lets_its_event_count_again(record: Telling):
    """Undoing an undo restores what was told."""
    first = record.readings("before")
    undo = record.tell("withdrawal", first, words="")
    record.tell("withdrawal", undo, words="")
    assert record.state.number_of("readings before") == first
    assert [event.number for event in still_counting(record.events)] == [1, first]


def test_a_stage_taken_up_again_is_open(record: Telling):
    """A stage that is taken up again is where the job stands, though later ones are done."""
    through_intake(record)
    record.done("strip")
    assert record.state.stage.plan.name == "fit-up"
    record.done("strip", False)
    assert record.state.stage.plan.name == "strip"


@pytest.mark.parametrize(
    ("answer", "waits"), [("inside", False), ("outside", True), ("cannot be told", True)]
)
def test_only_a_straight_housing_needs_no_correction(record: Telling, answer: str, waits: bool):
    """The stage "correct" waits unless the latest readings were judged straight enough."""
    record.check(record.readings("after"), answer)
    correct = next(stage for stage in record.state.stages if stage.plan.name == "correct")
    assert bool(correct.missing) is waits


def test_a_check_of_older_readings_does_not_count(record: Telling):
    """New readings wait to be judged, whatever the check of the old ones said."""
    record.check(record.readings("after"), "inside")
    record.readings("after")
    check = next(stage for stage in record.state.stages if stage.plan.name == "check")
    assert [need.what for need in check.missing] == ["check"]


def test_a_result_is_current_until_what_it_stands_on_changes(record: Telling):
    """A check stays current until the job file or the readings it was made from are told anew."""
    after = record.readings("after")
    record.check(after, "inside")
    check = record.state.latest["check"]
    assert record.state.current(check)
    record.job_file()
    assert not record.state.current(check)


def test_all_stages_done_finishes_the_job(record: Telling):
    """A job is finished when the last stage is done."""
    record.readings("before")
    record.check(record.readings("after"), "inside")
    for stage in stages():
        if stage.hold_point is not None:
            record.sign(stage.hold_point.name)
        assert not record.state.finished
        record.done(stage.name)
    assert record.state.finished
    assert record.state.blocks == ()


def test_hold_points_cover_parts_that_events_touch():
    """Every part a hold point covers is touched by some kind of event."""
    touched = {subject(kind, {"set": which}) for kind in KINDS for which in ("before", "after")} - {""}
    covered = {part for point in hold_points().values() for part in point.covers}
    assert covered <= touched
