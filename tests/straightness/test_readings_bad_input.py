"""Every way a reading can be wrong, and what is said about it."""

from __future__ import annotations

import pytest
from straightness.readings_written import INCH, MM, TRUCK, as_csv, as_toml, cells, read, read_lines, told

from axlewright.errors import ReadingsError
from axlewright.job.schema import Job

GOOD = "kind=gap setup=good at=300 side=top gap=1"

BAD: list[tuple[str, str, str]] = [
    # stations
    ("kind=gap at=1400 side=top gap=1", 'at is "1400": is off the housing', "1300 mm"),
    ("kind=gap at=-20 side=top gap=1", 'at is "-20": is off the housing', "Hook the tape"),
    ("kind=gap at=10 side=top gap=1", "left knuckle flange", "22 mm to 650 mm"),
    ("kind=gap at=1290 side=top gap=1", "right knuckle flange", "950 mm to 1278 mm"),
    ("kind=string at=800 side=front gap=60", "lies on the centre, 650 mm to 950 mm", "tells nothing"),
    ("kind=height at=800 side=top height=400", "lies on the centre", "Hook the tape"),
    ("kind=runout at=800 total=1 clock=3", "lies on the centre", "Hook the tape"),
    ("kind=four-point at=800 at_12=0 at_3=0 at_6=0 at_9=0", "lies on the centre", "Hook the tape"),
    ("kind=runout at=300 total=1 clock=3 block_left=10 block_right=900", "block_left", "knuckle flange"),
    ("kind=runout at=300 total=1 clock=3 block_left=100 block_right=900", "block_right", "centre"),
    ("kind=runout at=300 total=1 clock=3 block_left=100", "block_right is missing", "runout"),
    ("kind=runout at=300 total=1 clock=3 block_left=600 block_right=100", "block_right", "at least 100 mm"),
    ("kind=gap side=top gap=1", "at is missing", 'column "at"'),
    # words
    ("kind=gpa at=300 side=top gap=1", 'kind is "gpa"', 'Did you mean "gap"?'),
    ("kind=straightedge at=300 side=top gap=1", "kind", 'Did you mean "gap"?'),
    ("kind=laser end=left distance=2000 up=1 forward=1", "kind", 'Did you mean "dot"?'),
    ("kind=camber end=left angle=1", "kind", 'Write "angle" as kind'),
    ("kind=4-point at=300 at_12=0 at_3=0 at_6=0 at_9=0", "kind", "four-point"),
    ("kind=xyz at=300 side=top gap=1", "a kind is one of gap, string", "docs/readings.md"),
    ("at=300 side=top gap=1", "kind is missing", "gap, string"),
    ("kind=gap at=300 side=back gap=1", 'side is "back"', 'Did you mean "rear"?'),
    ("kind=gap at=300 gap=1", "side is missing", '"top", "front", "bottom" or "rear"'),
    ("kind=height at=300 side=front height=300", 'side is "front"', '"top" or "bottom"'),
    ("kind=angle end=driver sense=camber angle=1", 'end is "driver"', '"left" or "right"'),
    ("kind=angle end=left sense=level angle=1", 'end is "left"', '"across"'),
    ("kind=angle end=left sense=cambre angle=1", 'sense is "cambre"', 'Did you mean "camber"?'),
    ("kind=dot end=across distance=2000 up=1 forward=1", 'end is "across"', '"left" or "right"'),
    (f"kind=gap setup={'x' * 80} at=300 side=top gap=1", "setup", "60"),
    # angles
    ("kind=angle end=left sense=camber angle=25", 'angle is "25": must be -5 to 5 deg', "write 25' or"),
    ("kind=angle end=left sense=toe angle=-12_deg", "must be -5 to 5 deg", '"-12 arcmin"'),
    ("kind=angle end=left sense=caster angle=-30", "must be -20 to 20 deg", "-30'"),
    ("kind=angle end=left sense=toe angle=1°75'", "stay below 60", "Carry"),
    ("kind=angle end=left sense=toe angle=1°60'", "stay below 60", "Carry"),
    ("kind=angle end=left sense=toe angle=1°5'60\"", "stay below 60", "Carry"),
    ('kind=angle end=left sense=toe angle=75"', "is no angle", "25'"),
    ("kind=angle end=left sense=toe angle=flat", "is no angle", "0.3"),
    # signs in words
    (
        "kind=angle end=left sense=toe angle=0.3_out",
        'angle is "0.3 out"',
        "toe-in, front edge inward, is positive",
    ),
    ("kind=angle end=left sense=toe angle=0.3_in", '"in" may be inches', "Write 0.3 or -0.3"),
    ("kind=angle end=left sense=toe angle=20'_in", '"in" may be inches', "in degrees"),
    (
        "kind=angle end=left sense=camber angle=-0.2_NEG",
        "not words",
        "Write 0.2 or -0.2, in degrees: top outward",
    ),
    ("kind=angle end=left sense=camber angle=neg_camber", "not words", "top outward is positive"),
    ("kind=angle sense=level angle=0.2_pos", "not words", "left end higher"),
    ("kind=angle end=left sense=toe angle=+", "is no angle", "0.3"),
    ("kind=dot end=left distance=2000 up=3_up forward=0", 'up is "3 up"', "plain number"),
    ("kind=dot end=left distance=2000 up=3 forward=+", 'forward is "+"', "plain number"),
    # figures
    ("kind=gap at=300 side=top gap=wide", 'gap is "wide"', "plain number in mm"),
    ("kind=gap at=300 side=top gap=-1", "must be 0 to 25 mm", "carry its own unit"),
    ("kind=gap at=300 side=top gap=2_in", "must be 0 to 25 mm", "carry its own unit"),
    ("kind=string at=300 side=top gap=500", "must be 0 to 400 mm", "carry its own unit"),
    ("kind=string at=300 side=top gap=5_kg", "unit", "plain number"),
    ("kind=string at=300 side=top gap=nan", 'gap is "nan"', "plain number"),
    ("kind=string at=300 side=top gap=1e999_mm", "gap", "finite number"),
    ("kind=height at=300 side=top height=3000", "must be -500 to 2500 mm", "carry its own unit"),
    ("kind=runout at=300 total=60 clock=3", "must be 0 to 50 mm", "carry its own unit"),
    ("kind=runout at=300 total=1 clock=14", 'clock is "14"', "12 is top, 3 front"),
    ("kind=runout at=300 total=1 clock=front", 'clock is "front"', "5:30"),
    ("kind=runout at=300 total=1 clock=3 clock_error=600", "clock_error", "1 min to 210 min"),
    ("kind=four-point at=300 at_12=0 at_3=0 at_6=0", "at_9 is missing", "four-point"),
    ("kind=four-point at=300 at_12=80 at_3=0 at_6=0 at_9=0", "at_12", "-50 to 50 mm"),
    ("kind=toe front=1200 diameter=600", "rear is missing", "toe"),
    ("kind=toe front=1200 rear=1203", "diameter is missing", "toe"),
    ("kind=toe front=1200 rear=1500 diameter=600", 'rear is "1500"', "more than any toe"),
    ("kind=toe front=1200 rear=1310 diameter=600", "differs from front by 110 mm", "diameter"),
    ("kind=toe front=12 rear=12.1 diameter=600", 'front is "12"', "must be 300 to 4000 mm"),
    ("kind=dot end=left distance=2000 up=300 forward=0", 'up is "300"', "-174.98 to 174.98 mm"),
    ("kind=gap at=300 side=top gap=1 error=70", "one standard deviation", "usual 0.05 mm"),
    ("kind=gap at=300 side=top gap=1 error=0", "one standard deviation", "0.005 mm to 5 mm"),
    ("kind=angle end=left sense=toe angle=0 error=much", 'error is "much"', "0.3"),
    # cells under the wrong column
    ("kind=gap at=300 side=top height=1", 'height is "1"', "has no height"),
    ("kind=gap at=300 side=top gap=1 angle=1", 'angle is "1"', "has no angle"),
    ("kind=gap at=300 side=top gap=0 note=35", 'note is "35"', "decimal comma"),
    ("kind=gap at=300 side=top gap=0,35", 'gap is "0,35"', "semicolons"),
]


@pytest.mark.parametrize("write", [as_csv, as_toml])
@pytest.mark.parametrize(("line", "says", "helps"), BAD)
def test_a_bad_line_is_told_and_the_rest_kept(line: str, says: str, helps: str, write: object) -> None:
    """One message names the line and what stands there, says what is allowed and what to do; other lines are read."""
    text = write(cells(GOOD), cells(line))  # type: ignore[operator]
    name = "after.csv" if write is as_csv else "after.toml"
    found = read(text, source=name)
    (fault,) = told(found)
    line_of_table = text.splitlines().index("[[reading]]", 1) + 1 if write is as_toml else 3
    told_line = int(fault.removeprefix(f"{name} line ").split(":")[0])
    last = len(text.splitlines())
    assert line_of_table <= told_line <= last
    assert says in fault and helps in fault
    assert [reading.origin.setup for reading in found.readings] == ["good"]


def test_in_an_inch_job_bounds_are_told_in_inches() -> None:
    """Messages speak the unit of the file."""
    found = read_lines("kind=gap at=10 side=top gap=0.01", "kind=gap at=12 side=top gap=12", job=INCH)
    assert "must be 0 to 0.98425 in; bare" not in told(found)[0]
    assert "must be 0 to 0.98425 in" in told(found)[0] and "bare numbers are in in here" in told(found)[0]
    with pytest.raises(ReadingsError, match=r"lies on the casting, 28\.75 in to 38\.25 in"):
        read_lines("kind=gap at=30 side=top gap=0.01", job=INCH)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (
            "kind=gap at=100 side=top gap=1",
            'line 2: at is "100": "left perch" stands there, 60 mm to 164 mm; its face',
        ),
        (
            "kind=runout at=1200 total=1 clock=3",
            '"right perch" stands there, 1136 mm to 1240 mm; the dial would',
        ),
    ],
)
def test_a_perch_is_no_skin(line: str, says: str) -> None:
    """On top of a perch, or with a dial that would run onto it, nothing is read; on its bottom it is."""
    with pytest.raises(ReadingsError) as error:
        read_lines(line, job=TRUCK)
    assert says in str(error.value)
    assert read_lines("kind=gap at=100 side=bottom gap=1", job=TRUCK).readings


def test_all_bad_lines_are_told_at_once_in_their_order() -> None:
    """Three bad lines, an unknown column and a copy give five messages from top to bottom."""
    text = (
        "kind,at,side,gapp,gap\n"
        "gap,300,top,,1\n"
        "gap,800,top,,1\n"
        "gap,300,top,,1\n"
        "gap,320,up,,1\n"
        "xyz,330,top,,1\n"
    )
    faults = told(read(text))
    assert [fault.split(":")[0] for fault in faults] == [f"after.csv line {n}" for n in (1, 3, 4, 5, 6)]
    assert "there is no such column, it is not read" in faults[0] and 'Did you mean "gap"' in faults[0]


def test_where_nothing_can_be_used_the_faults_are_raised() -> None:
    """Thirty bad lines: the first twenty are told, and how many more there are."""
    lines = [f"kind=gap at={800 + n} side=top gap=1" for n in range(30)]
    with pytest.raises(ReadingsError) as error:
        read_lines(*lines)
    assert len(error.value.faults) == 21
    assert "10 more faults follow" in str(error.value.faults[-1])


@pytest.mark.parametrize("text", ["", "\n\n", "# only a remark\n"])
def test_an_empty_file_is_refused(text: str) -> None:
    """Nothing but comments is no file of readings."""
    with pytest.raises(ReadingsError, match=r"after\.csv is empty"):
        read(text)


def test_a_form_not_filled_in_is_refused_as_such() -> None:
    """Lines without figures are skipped in silence; nothing but such lines is told."""
    blank = "kind=string setup=front at=300 side=front gap= diameter=600 error=1 note=later"
    with pytest.raises(ReadingsError, match="an empty form: no reading is filled in"):
        read_lines(blank)
    assert not read_lines(GOOD, blank).faults
    with pytest.raises(ReadingsError, match="without readings"):
        read("kind,at,side,gap\n")


def test_one_reading_is_enough_to_be_read() -> None:
    """What one reading tells is for the fit to say."""
    assert len(read_lines(GOOD).readings) == 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('units = "cm"\n[[reading]]\nkind = "gap"\n', 'must be "mm" or "inch"'),
        ('reading = "none"\n', "must be tables"),
        ("reading = [1]\n", "must be tables"),
        ("# nothing\n", "has at least one"),
        ("[[reading]]\nkind = gap\n", "line 2, column 8 is not TOML"),
        ("[[reading]]\nat = " + "[" * 2000, "not TOML|nested too deeply"),
        ("[[reading]]\na" + ".a" * 500 + " = 1\n", "line 2: is very long"),
    ],
)
def test_a_toml_file_that_is_none_is_refused(text: str, says: str) -> None:
    """Each with the line, as far as there is one."""
    with pytest.raises(ReadingsError, match=says):
        read(text, source="after.toml")


def test_odd_keys_and_values_of_a_toml_file_are_told() -> None:
    """Unknown keys, a value that is no figure, and a usual error beyond all sense; the rest is read."""
    text = (
        'nmae = "x"\n'
        "[usual_error]\n"
        "gapp = 1\n"
        "toe = 900\n"
        "dot = true\n"
        "[[reading]]\n"
        'kind = "gap"\n'
        "at = 300\n"
        'side = "top"\n'
        "gap = 0.5\n"
        "deep = 1\n"
        "[[reading]]\n"
        'kind = "gap"\n'
        "at = 400\n"
        'side = "top"\n'
        "gap = [1]\n"
    )
    found = read(text, source="after.toml")
    assert len(found.readings) == 1
    expected = [
        (1, 'Did you mean "name"?'),
        (3, 'Did you mean "gap"?'),
        (4, "one standard deviation"),
        (5, "dot"),
        (11, "there is no such column"),
        (16, "gap"),
    ]
    faults = told(found)
    assert len(faults) == len(expected)
    for fault, (line, says) in zip(faults, expected, strict=True):
        assert fault.startswith(f"after.toml line {line}:") and says in fault


def test_a_usual_error_table_that_is_none_is_told() -> None:
    """usual_error = 1 says of what it is the error."""
    found = read("usual_error = 1\n" + as_toml(cells(GOOD)), source="after.toml")
    assert "must be a table" in told(found)[0]


def test_readings_in_one_toml_line_are_told_by_number() -> None:
    """Where a reading has no line of its own its number stands for it."""
    text = 'reading = [{kind="gap", at=300, side="top", gap=1}, {kind="gap", at=800, side="top", gap=1}]\n'
    assert told(read(text, source="after.toml"))[0].startswith("after.toml line 1: at is")


def test_caster_of_the_job_widens_nothing_but_camber_wanted_does(wanted: Job) -> None:
    """A flange that shall have 2 deg of camber may be read 6.5 deg off upright, not 7.5."""
    found = read_lines(
        "kind=angle end=left sense=camber angle=6.5",
        "kind=angle end=right sense=camber angle=7.5",
        job=wanted,
    )
    assert len(found.readings) == 1 and "must be -7 to 7 deg" in told(found)[0]


@pytest.fixture
def wanted() -> Job:
    """A job that wants camber."""
    return MM.model_copy(update={"straightness": MM.straightness.model_copy(update={"camber_wanted": 2.0})})
