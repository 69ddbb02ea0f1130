"""The same place read twice: a copy is used once, agreement is welcome, contradiction is told."""

from __future__ import annotations

import pytest
from straightness.readings_written import read_lines, told

GOOD = "kind=height setup=floor at=400 side=top height=300"

# first line, second line that agrees within its error, second line that contradicts
TWICE = [
    ("kind=gap at=300 side=top gap=0.35", "gap=0.40", "gap=0.85"),
    ("kind=string at=300 side=front gap=60", "gap=60.5", "gap=65"),
    ("kind=height at=300 side=top height=300", "height=300.5", "height=303"),
    ("kind=runout at=300 total=0.50 clock=6", "clock=6:30", "clock=12"),
    ("kind=runout at=300 total=0.50 clock=12", "clock=11:45", "total=0.9"),
    ("kind=runout at=300 total=0.50 clock=3", "clock=3:15", "clock=6"),
    ("kind=four-point at=300 at_12=0.1 at_3=0 at_6=-0.1 at_9=0", "at_3=0.05", "at_12=0.6"),
    ("kind=angle end=left sense=camber angle=0.30", "angle=0.35", "angle=1.30"),
    ("kind=toe front=1200 rear=1203 diameter=600", "rear=1204", "rear=1213"),
    ("kind=dot end=left distance=2000 up=3 forward=1", "up=5", "forward=21"),
]


def changed(line: str, change: str) -> str:
    """A line with one cell changed."""
    name = change.split("=")[0]
    return " ".join(change if word.startswith(f"{name}=") else word for word in line.split())


@pytest.mark.parametrize(("line", "near", "far"), TWICE)
def test_a_place_read_twice(line: str, near: str, far: str) -> None:
    """Equal: used once, and told. Near: both used. Far: neither used, both lines told with their figures."""
    copy = read_lines(GOOD, line, line)
    assert len(copy.readings) == 2
    assert told(copy) == [
        "after.csv line 4: is the same reading as on line 3, and used once. "
        'Write "repeat" in its note if the place was read twice.'
    ]
    agreeing = read_lines(GOOD, line, changed(line, near))
    assert len(agreeing.readings) == 3 and not agreeing.faults
    contradicting = read_lines(GOOD, line, changed(line, far))
    assert [reading.origin.setup for reading in contradicting.readings] == ["floor"]
    (fault,) = told(contradicting)
    assert fault.startswith("after.csv line 4 is ") and "contradicts line 3 (" in fault
    assert far.split("=")[1] in fault.split("contradicts")[0]


@pytest.mark.parametrize("note", ["repeat", "Repeated_by_Ann", "read_again"])
@pytest.mark.parametrize(("line", "near", "far"), TWICE)
def test_a_note_makes_it_a_repeated_reading(line: str, near: str, far: str, note: str) -> None:
    """Where the note of the later line says so, both are used, equal or not."""
    for second in (line, changed(line, near), changed(line, far)):
        found = read_lines(line, f"{second} note={note}")
        assert len(found.readings) == 2 and not found.faults


def test_another_place_or_set_up_is_no_repeat() -> None:
    """Another station, side, set-up, end or sense is another reading."""
    found = read_lines(
        "kind=gap setup=a at=300 side=top gap=0.1",
        "kind=gap setup=a at=310 side=top gap=5",
        "kind=gap setup=a at=300 side=front gap=5",
        "kind=gap setup=b at=300 side=top gap=5",
        "kind=angle end=left sense=camber angle=0",
        "kind=angle end=right sense=camber angle=2",
        "kind=angle end=left sense=toe angle=2",
        "kind=runout setup=c at=300 total=0.1 clock=3",
        "kind=runout setup=c at=300 total=1 clock=3 block_left=100 block_right=1200",
    )
    assert len(found.readings) == 9 and not found.faults


def test_three_that_contradict_are_told_together() -> None:
    """One message on the last of them names the others; copies among them are told as copies."""
    line = "kind=gap at=300 side=top gap=0.1"
    found = read_lines(GOOD, line, changed(line, "gap=0.9"), line, changed(line, "gap=2"))
    assert len(found.readings) == 1
    copy, fault = told(found)
    assert copy.startswith("after.csv line 5: is the same reading as on line 3")
    assert "line 6 is 2: contradicts line 3 (0.1) and line 4 (0.9)" in fault


def test_the_zero_of_a_dial_is_no_contradiction() -> None:
    """A dial set anew between two rounds shifts all four readings alike."""
    found = read_lines(
        "kind=four-point at=300 at_12=0.1 at_3=0 at_6=-0.1 at_9=0",
        "kind=four-point at=300 at_12=1.1 at_3=1 at_6=0.9 at_9=1",
    )
    assert len(found.readings) == 2 and not found.faults
