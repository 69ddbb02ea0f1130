"""What a person tells about a job is checked, then written down."""

from __future__ import annotations

from pathlib import Path

import pytest

from axlewright.errors import GeometryError, JobFileError, RecordError
from axlewright.job.demo_jobs import demo_text
from axlewright.record.opening import open_store
from axlewright.record.stages import hold_points
from axlewright.record.store import Store
from axlewright.tasks import keeping
from axlewright.tasks.standing import stands
from axlewright.tasks.telling import Telling
from axlewright.tasks.texts import job_text

ANN = Telling("Ann")
TRUSS = demo_text("truss-only")
BASELINE = hold_points()["baseline"]


def ann(**told: object) -> Telling:
    """Something new that Ann tells."""
    return Telling("Ann", **told)  # type: ignore[arg-type]


@pytest.fixture
def store(tmp_path: Path):
    """An empty record."""
    opened = open_store(tmp_path)
    yield opened
    opened.close()


@pytest.fixture
def job(store: Store) -> str:
    """A job with the smallest demo's file."""
    return keeping.start_job(store, TRUSS, "demo", ann()).job


def test_a_job_begins_with_its_file(store: Store, job: str):
    """The job file is kept letter by letter, comments included."""
    assert job_text(store, stands(store, job)) == TRUSS
    assert keeping.job_of(store, stands(store, job)).job.name == store.jobs()[0].name


@pytest.mark.parametrize(
    ("text", "error"), [("", JobFileError), (TRUSS.replace("length = ", "length = 9", 1), JobFileError)]
)
def test_a_file_that_is_none_begins_nothing(store: Store, text: str, error: type[Exception]):
    """What is no job file leaves no job behind."""
    with pytest.raises(error):
        keeping.start_job(store, text, "mine.toml", ann())
    assert store.jobs() == ()


def test_a_changed_file_that_does_not_fit_changes_nothing(store: Store, job: str):
    """A refused change leaves the earlier file in force."""
    wrong = TRUSS.replace("wall = 8", "wall = 24").replace("outside_diameter = 89", "outside_diameter = 46")
    with pytest.raises(GeometryError):
        keeping.change_job_file(store, job, wrong, "mine.toml", ann())
    assert job_text(store, stands(store, job)) == TRUSS


def test_a_signature_remembers_what_it_covers(store: Store, job: str):
    """A signed hold point names the last event of each part it covers, none as 0."""
    event = keeping.sign(store, job, "baseline", (True,) * len(BASELINE.items), ann())
    assert event.body["covers"] == {"job file": 1, "readings before": 0}


@pytest.mark.parametrize(
    ("who", "hold_point", "answers"),
    [("  ", "baseline", 3), ("Ann", "no such", 3), ("Ann", "baseline", 2)],
    ids=["nobody", "unknown", "a line unanswered"],
)
def test_a_signature_needs_a_person_and_every_answer(
    store: Store, job: str, who: str, hold_point: str, answers: int
):
    """Nobody, an unknown hold point or a line left unanswered is refused, and nothing is signed."""
    with pytest.raises(RecordError):
        keeping.sign(store, job, hold_point, (True,) * answers, Telling(who))
    assert len(store.events(job)) == 1


def test_a_stage_that_misses_something_needs_a_word(store: Store, job: str):
    """Intake without readings is done only with a note that says why, and after signing."""
    keeping.sign(store, job, "baseline", (True,) * len(BASELINE.items), ann())
    with pytest.raises(RecordError, match="Measure straightness"):
        keeping.say_stage(store, job, "intake", True, ann())
    keeping.say_stage(store, job, "intake", True, ann(), "housing came stripped and cut")
    assert stands(store, job).stage.plan.name == "strip"


def test_a_held_stage_is_not_done(store: Store, job: str):
    """A stage whose hold point is not signed cannot be said done."""
    with pytest.raises(RecordError, match="must be signed"):
        keeping.say_stage(store, job, "intake", True, ann(), "never mind")


def test_what_is_taken_back_stays_in_the_record(store: Store, job: str):
    """A note taken back no longer counts; the record still has it."""
    note = keeping.write_note(store, job, "left seal leaks", ann())
    keeping.withdraw(store, job, note.number, "it was the right one", ann())
    now = stands(store, job)
    assert now.of_kind("note") == ()
    assert [event.kind for event in now.events] == ["job file", "note", "withdrawal"]


@pytest.mark.parametrize("number", [0, 1, 99])
def test_only_a_later_event_of_the_job_can_be_taken_back(store: Store, job: str, number: int):
    """The file a job began with, and what is not there, cannot be taken back."""
    with pytest.raises(RecordError):
        keeping.withdraw(store, job, number, "", ann())


def test_the_same_telling_twice_counts_once(store: Store, job: str):
    """A retry with the same key gives the event that was written first."""
    first = keeping.write_note(store, job, "hello", ANN)
    assert keeping.write_note(store, job, "hello", ANN) == first
    assert len(store.events(job)) == 2


def test_a_signature_sent_again_is_the_first_one_whatever_happened_since(store: Store, job: str):
    """A retry of a sign-off gives what was signed, though what it covers was changed meanwhile."""
    signing = ann()
    first = keeping.sign(store, job, "baseline", (True,) * len(BASELINE.items), signing)
    keeping.change_job_file(store, job, TRUSS + "\n# wider\n", "mine.toml", ann(reason="measured again"))
    assert keeping.sign(store, job, "baseline", (True,) * len(BASELINE.items), signing) == first


def test_a_stage_said_again_is_the_first_telling_whatever_happened_since(store: Store, job: str):
    """A retry of a stage done is not refused for what changed after it was said."""
    keeping.sign(store, job, "baseline", (True,) * len(BASELINE.items), ann())
    saying = ann()
    first = keeping.say_stage(store, job, "intake", True, saying, "cut open already")
    keeping.change_job_file(store, job, TRUSS + "\n# wider\n", "mine.toml", ann(reason="measured again"))
    assert keeping.say_stage(store, job, "intake", True, saying, "cut open already") == first
