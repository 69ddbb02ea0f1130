"""Trial files: the template reads back, and what is wrong in one is told with its line and the remedy."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from trial_example import TEXT, TUBE, filled, planned

from axlewright.errors import ShopFileError
from axlewright.straightness.learn.trial import Trial, TrialTube
from axlewright.straightness.learn.trial_fitted import response_of
from axlewright.straightness.learn.trial_reading import parse_trial, read_trial, scrap_tube
from axlewright.straightness.learn.trial_template import trial_template


@pytest.mark.parametrize("inch", [False, True])
def test_the_template_holds_the_planned_beads(tmp_path: Path, inch: bool) -> None:
    """Filled in as planned, it reads back as the plan's tube, beads, times and spot, in either unit."""
    path = tmp_path / "trial.toml"
    path.write_text(filled(trial_template(planned(), inch)), encoding="utf-8")
    trial, plan = read_trial(path), planned()
    assert trial.inch is inch
    assert trial.tube.model_dump() == pytest.approx(TUBE.model_dump(), abs=1e-7)
    assert trial.welder.travel_speed == pytest.approx(plan.welder.travel_speed)
    for bead, wanted in zip(trial.beads, plan.beads, strict=True):
        assert (bead.at is None) == (wanted.at is None)
        assert (bead.start_mark, bead.end_mark) == pytest.approx((wanted.start, wanted.end), abs=1e-7)
        assert (bead.start, bead.read_at) == pytest.approx((wanted.arc_start, wanted.read_at))
        assert bead.reading == pytest.approx(wanted.bend.middle, abs=2e-5)
    assert trial.thermometer is not None
    assert (trial.thermometer.at, trial.thermometer.around) == pytest.approx(
        (plan.spot.at, plan.spot.around), abs=1e-7
    )
    assert [one.time for one in trial.temperatures] == [one.time for one in plan.temperatures]
    shown = [one.reading for one in trial.temperatures]
    assert shown == pytest.approx([one.expected.middle for one in plan.temperatures], abs=1.0)


def test_boxes_left_empty_are_left_out() -> None:
    """A reading that was not taken says nothing; without seconds of arc the travel speed stands for them."""
    trial = parse_trial(TEXT, "trial.toml")
    assert trial.beads[1].arc_seconds is None
    assert trial.arc_time(trial.beads[1]) == pytest.approx(0.1 / 6e-3)
    assert [one.reading for one in trial.temperatures] == [115.0, None]
    response, measured = response_of(trial)
    assert response.names == ("bend 1", "bend 2", "bend 3", "temperature 1")
    assert measured == pytest.approx([0.21e-3, 0.45e-3, 0.70e-3, 95.0])


def test_a_time_may_be_minutes() -> None:
    """7.5 is 7:30, as in a bead log; hours may stand in front."""
    trial = parse_trial(
        TEXT.replace('start = "7:30"', "start = 7.5").replace('"14:30"', '"0:14:30"'), "trial.toml"
    )
    assert [bead.start for bead in trial.beads] == [0.0, 450.0, 870.0]


def test_supports_and_dial_have_their_usual_places() -> None:
    """Left out: supports 30 mm or 1 in from the ends, the dial midway."""
    assert (TUBE.left_support, TUBE.dial, TUBE.right_support) == pytest.approx((0.03, 0.5, 0.97))
    given = {"outside_diameter": 3.5, "wall": 0.375, "length": 40}
    tube = TrialTube.model_validate(given, context={"inch": True})
    assert (tube.left_support, tube.dial, tube.right_support) == pytest.approx((0.0254, 0.508, 0.9906))


def test_a_tube_is_taken_as_typed() -> None:
    """Numbers in the shop's unit or text with its own; what is wrong is told by its name."""
    tube = scrap_tube({"outside_diameter": "3 1/2 in", "wall": 9.5, "length": 1000}, inch=False)
    assert (tube.outside_diameter, tube.wall) == pytest.approx((88.9e-3, 9.5e-3))
    with pytest.raises(ShopFileError, match="wall is missing"):
        scrap_tube({"outside_diameter": 88.9, "length": 1000}, inch=False)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('units = "mm"', "", ("units is missing", 'units = "mm"')),
        ("wall = 9.5", "wal = 9.5", ("wal in [tube]", 'Did you mean "wall"?')),
        ("wall = 9.5", "wall = 60", ("wall in [tube] is 60 mm", "0.05906 to 0.9843 in")),
        ("length = 1000", "length = 40", ("length in [tube] is 40 mm", "500 to 2500 mm")),
        ("right_support = 970", "right_support = 200", ("four diameters", "Move the supports apart")),
        ("from = 540", "from = 450", ("from in [[bead]] no. 2", "keep 15 mm from bead 1")),
        ("from = 360", "from = 10", ("between the supports", "30 mm to 970 mm")),
        ("from = -30", "from = -90", ("round the tube stays within", "46.55 mm of the top")),
        ('start = "7:30"', 'start = "0:05"', ("start in [[bead]] no. 2 is 0:05", "stops at 0:17")),
        ('start = "7:30"', 'start = "half past"', ("minutes and seconds", '"6:30"')),
        ('start = "7:30"', 'start = ""', ("start in [[bead]] no. 2 is empty",)),
        ('read_at = "6:30"', 'read_at = "0:20"', ("read_at in [[bead]] no. 1", "before the next arc starts")),
        (
            'time = "1:15"',
            'time = "0:20"',
            ("time in [[temperature]] no. 1", "15 s or more after an arc stops"),
        ),
        ('time = "2:00"', 'time = "1:00"', ("time runs backwards",)),
        ("[thermometer]\nat = 410\nround = 20\n", "", ("[thermometer] is missing", "with at and round")),
        ('by = "dial"', 'by = "laser"', ("by in [bend]", '"straightedge"')),
        ("[[bead]]", "[[bead]", ("not TOML",)),
        ("volts = 22", "volts = 220", ("volts in [welder]", "8 to 50 V")),
    ],
)
def test_a_fault_is_told_with_line_and_remedy(old: str, new: str, words: tuple[str, ...]) -> None:
    """Each fault names the file's line, the field, what is allowed and what to do."""
    assert old in TEXT
    with pytest.raises(ShopFileError) as caught:
        parse_trial(TEXT.replace(old, new, 1), "trial.toml")
    message = str(caught.value)
    assert "trial.toml" in message
    assert all(part in message for part in words), message


def test_a_trial_without_any_bend_is_refused() -> None:
    """Temperatures alone do not tell shrinkage."""
    text = re.sub(r"reading = 0\.\d+", 'reading = ""', TEXT)
    with pytest.raises(ShopFileError, match="at least one bead needs the bend"):
        parse_trial(text, "trial.toml")


@pytest.mark.parametrize(
    ("data", "words"),
    [(b"\xff\xfe", "UTF-8"), (b"", "empty"), (b"x = 1 # " + b"." * 300, "noise"), (b"#" * 100_001, "100 kB")],
)
def test_a_file_that_is_no_trial_is_refused(tmp_path: Path, data: bytes, words: str) -> None:
    """Whatever the bytes, one clear error."""
    path = tmp_path / "trial.toml"
    path.write_bytes(data)
    with pytest.raises(ShopFileError, match=words):
        read_trial(path)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    """A wrong name is told as such."""
    with pytest.raises(ShopFileError, match="unreadable"):
        read_trial(tmp_path / "none.toml")


def test_a_trial_is_written_back_as_it_was_read() -> None:
    """The model dumps what it read in the shop's unit, times as on the stopwatch."""
    trial = parse_trial(TEXT, "trial.toml")
    tree = trial.model_dump(by_alias=True, exclude_none=True, context={"inch": False})
    assert tree["bead"][1]["start"] == "7:30" and tree["bead"][1]["from"] == 540
    again = Trial.model_validate(tree, context={"inch": False}, by_alias=True, by_name=False)
    assert again == trial
