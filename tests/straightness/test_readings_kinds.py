"""Each kind of reading, in both units and both formats, becomes what it says in SI."""

from __future__ import annotations

import math

import pytest
from straightness.readings_written import INCH, MM, Cells, as_csv, as_toml, cells, read, read_lines, told

from axlewright.job.schema import Job
from axlewright.straightness.readings.kinds import KINDS, UNKNOWN_CLOCK
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Origin,
    Reading,
    Runout,
    ToeTape,
)
from axlewright.straightness.readings.usual import usual_errors
from axlewright.units import to_si

# An inch is 25.4 mm by definition (NIST SP 811, 2008, appendix B.8), so the inch lines below say what the mm lines
# say to the last digit. Errors are the usual ones of `usual_errors.toml`, in m and rad.
HERE = Origin(2, "b", 0.0)
WRITTEN: list[tuple[str, str, Reading]] = [
    (
        "kind=gap setup=b at=254 side=bottom gap=0.381",
        "kind=gap setup=b at=10 side=bottom gap=0.015",
        Gap(Origin(2, "b", 5e-5), 0.254, "bottom", 0.000381),
    ),
    (
        "kind=string setup=b at=1016 side=front gap=63.5",
        "kind=string setup=b at=40 side=front gap=2_1/2",
        Gap(Origin(2, "b", 2e-4), 1.016, "front", 0.0635),
    ),
    (
        "kind=height setup=b at=254 side=top height=355.6",
        "kind=height setup=b at=10 side=top height=14",
        Height(Origin(2, "b", 3e-4), 0.254, "top", 0.3556),
    ),
    (
        "kind=runout setup=b at=254 total=0.508 clock=5:30",
        "kind=runout setup=b at=10 total=0.020 clock=5.5",
        Runout(Origin(2, "b", 2e-5), 0.254, 0.000508, 5.5, 0.25, None),
    ),
    (
        "kind=runout setup=b at=254 total=0.508 clock=12 block_left=50.8 block_right=1016",
        "kind=runout setup=b at=10 total=0.020 clock=0 block_left=2 block_right=40",
        Runout(Origin(2, "b", 2e-5), 0.254, 0.000508, 12.0, 0.25, (0.0508, 1.016)),
    ),
    (
        "kind=four-point setup=b at=254 at_12=0.254 at_3=0 at_6=-0.508 at_9=0.127",
        "kind=four-point setup=b at=10 at_12=0.010 at_3=0 at_6=-0.020 at_9=0.005",
        FourPoint(Origin(2, "b", 2e-5), 0.254, (0.000254, 0.0, -0.000508, 0.000127), None),
    ),
    (
        "kind=angle setup=b end=right sense=camber angle=-0.5",
        "kind=angle setup=b end=right sense=camber angle=-30'",
        Angle(Origin(2, "b", math.radians(0.07)), "right", "camber", math.radians(-0.5)),
    ),
    (
        "kind=angle setup=b sense=level_on_side angle=1°15'",
        "kind=angle setup=b sense=level_on_side angle=1.25",
        Angle(Origin(2, "b", math.radians(0.07)), "across", "level on side", math.radians(1.25)),
    ),
    (
        "kind=toe setup=b front=1270 rear=1273.175 diameter=609.6",
        "kind=toe setup=b front=50 rear=50_1/8 diameter=24",
        ToeTape(Origin(2, "b", 5e-4), 1.27, 1.273175, 0.6096),
    ),
    (
        "kind=dot setup=b end=left distance=2540 up=12.7 forward=-25.4",
        "kind=dot setup=b end=left distance=100 up=1/2 forward=-1",
        # 1 mm for the dot and 0.03 deg of 2.54 m, 1.33 mm, for the beam: 1.664 mm.
        Dot(Origin(2, "b", 0.001663954), "left", 2.54, 0.0127, -0.0254),
    ),
]


@pytest.mark.published
@pytest.mark.parametrize("write", [as_csv, as_toml])
@pytest.mark.parametrize(("line", "inch_line", "expected"), WRITTEN)
def test_every_kind_reads_in_both_units_and_formats(
    line: str, inch_line: str, expected: Reading, write: object
) -> None:
    """A line of each kind, in mm and in inches, as CSV and as TOML, is one and the same reading in SI."""
    for words, job in ((line, MM), (inch_line, INCH)):
        text = write(cells(words))  # type: ignore[operator]
        found = read(text, job)
        assert not found.faults
        (reading,) = found.readings
        # Exact but for the line a TOML table begins on.
        origin = Origin(2 if write is as_csv else 1, "b", expected.origin.error)
        assert reading == type(expected)(origin, *list(vars(expected).values())[1:])


def test_every_kind_is_in_the_table_above() -> None:
    """No kind is left untested."""
    assert {cells(line)["kind"] for line, _, _ in WRITTEN} == set(KINDS)


@pytest.mark.published
def test_the_inch_is_exact() -> None:
    """A thousand thousandths are 25.4 mm to the last bit (NIST SP 811, 2008, appendix B.8)."""
    text = as_csv(*(cells(f"kind=gap setup={n} at=10 side=top gap=0.{n:03d}") for n in range(1, 984, 13)))
    found = [reading.gap for reading in read(text, INCH).readings]
    assert found == [round(n * 25.4e-6, 9) for n in range(1, 984, 13)]


@pytest.mark.parametrize(
    ("cell", "metres"),
    [("0.012 in", 0.0003048), ("0.3 mm", 0.0003), ('1/64"', 0.000396875), ("0.05 cm", 0.0005)],
)
@pytest.mark.parametrize("job", [MM, INCH])
def test_a_cell_may_carry_its_own_unit(cell: str, metres: float, job: Job) -> None:
    """A gap in inches in a job in mm, and the other way round."""
    row = {"kind": "gap", "at": "254 mm", "side": "top", "gap": cell}
    (reading,) = read(as_toml(row), job).readings
    assert reading.gap == pytest.approx(metres, abs=6e-10)  # kept to a nanometre


@pytest.mark.parametrize(
    ("cell", "degrees"),
    [
        ("0.3", 0.3),
        ("-0.3°", -0.3),
        ("0.3 deg", 0.3),
        ("0,3º", 0.3),
        ("25'", 25 / 60),
        ("−25′", -25 / 60),
        ("–25’", -25 / 60),
        ("25 arcmin", 25 / 60),
        ("25 min", 25 / 60),
        ("0°25'", 25 / 60),
        ("-0° 25'", -25 / 60),
        ("1 deg 25 min", 85 / 60),
        ("0°25'30\"", 25.5 / 60),
        ("3e-1", 0.3),
        ("+0.3", 0.3),
    ],
)
def test_angles_are_degrees_or_minutes_of_arc(cell: str, degrees: float) -> None:
    """A bare angle is in degrees; minutes have their mark, and a minus before 0 degrees counts."""
    row = {"kind": "angle", "end": "left", "sense": "toe", "angle": cell}
    (reading,) = read(as_csv(row, separator=";")).readings
    assert math.degrees(reading.angle) == pytest.approx(degrees, abs=1e-9)  # kept to 1e-9 deg


@pytest.mark.parametrize(
    ("cell", "hours"), [("3", 3.0), ("5,5", 5.5), ("05:30:00", 5.5), ("6 o'clock", 6.0), ("12:15", 0.25)]
)
def test_clock_positions(cell: str, hours: float) -> None:
    """Hours as a number, or as a clock shows them."""
    row = {"kind": "runout", "at": "300", "total": "0,5", "clock": cell}
    (reading,) = read(as_csv(row, separator="\t")).readings
    assert reading.clock == pytest.approx(hours)


def test_a_dial_that_hardly_moves_needs_no_clock() -> None:
    """A total within twice its error has no high spot; its clock position is then not known at all."""
    still, moving = "kind=runout at=300 total=0.03", "kind=runout at=400 total=0.3"
    found = read_lines(still, moving)
    assert [reading.clock_error for reading in found.readings] == [UNKNOWN_CLOCK]
    assert pytest.approx(12.0 / math.sqrt(12.0), abs=1e-3) == UNKNOWN_CLOCK  # an even spread over 12 h
    assert "clock is missing" in told(found)[0]


def test_caster_may_be_larger_than_camber() -> None:
    """Flanges are built with ten degrees of caster, but not of camber."""
    found = read_lines(
        "kind=angle end=left sense=caster angle=9.5", "kind=angle end=left sense=camber angle=9.5"
    )
    assert [reading.sense for reading in found.readings] == ["caster"]
    assert "must be -5 to 5 deg" in told(found)[0]


def test_usual_names_of_set_ups() -> None:
    """Without a name a straightedge is a set-up on each tube, a string one along both, an angle one each way up."""
    lines = [
        "kind=gap at=300 side=top gap=1",
        "kind=gap at=1000 side=top gap=1",
        "kind=string at=300 side=top gap=1",
        "kind=string at=1000 side=top gap=1",
        "kind=angle end=left sense=camber angle=0",
        "kind=angle sense=level angle=0",
        "kind=angle end=left sense=toe angle=0",
        "kind=runout at=300 total=0.3 clock=3",
        "kind=runout at=300 total=0.3 clock=3 block_left=100 block_right=1200",
    ]
    assert [reading.origin.setup for reading in read_lines(*lines).readings] == [
        *("straightedge on left tube", "straightedge on right tube", "string", "string"),
        *("as on the vehicle", "as on the vehicle", "on its side", "between centres", "V-blocks"),
    ]


def test_a_set_up_is_one_in_capitals_or_not() -> None:
    """Front string and front  STRING are one string."""
    found = read_lines(
        "kind=string setup=Front_string at=300 side=front gap=60",
        "kind=string setup=front__STRING at=400 side=front gap=60",
    )
    assert {reading.origin.setup for reading in found.readings} == {"Front string"}


@pytest.mark.parametrize(
    ("line", "error"),
    [
        ("kind=gap at=300 side=top gap=1 error=0.1", 1e-4),
        ("kind=gap at=300 side=top gap=1 error=±0.004_in", 0.0001016),
        ("kind=angle end=left sense=camber angle=0 error=6'", math.radians(0.1)),
        ("kind=dot end=left distance=2000 up=0 forward=0 error=2", 2e-3),
        ("kind=dot end=left distance=2000 up=0 forward=0 error=0.1_deg", 2.0 * math.tan(math.radians(0.1))),
        ("kind=runout at=300 total=0.3 clock=3 error=0.05 clock_error=30", 5e-5),
    ],
)
def test_a_line_may_give_its_own_error(line: str, error: float) -> None:
    """Column error stands for the usual error; of a laser it may be a length or an angle."""
    (reading,) = read_lines(line).readings
    assert reading.origin.error == pytest.approx(error, abs=6e-10)
    if isinstance(reading, Runout):
        assert reading.clock_error == 0.5


def test_a_file_may_give_its_own_usual_errors() -> None:
    """[usual_error] holds for every line that gives none."""
    rows: list[Cells] = [cells(line) for line, _, _ in WRITTEN]
    own = 'gap = 0.1\nstring = "0.5 mm"\nfour_point = 0.05\nrunout = 0.03\nclock = 60\nangle = 0.1\ntoe = 1\ndot = 2\n'
    own += 'height = 1\nbeam = "6\'"\n'
    found = read(f'name = "before"\n[usual_error]\n{own}\n{as_toml(*rows)}', source="before.toml")
    assert not found.faults and found.name == "before"
    errors = [reading.origin.error for reading in found.readings]
    tenth = math.radians(0.1)
    dot = math.hypot(2e-3, 2.54 * math.tan(tenth))
    expected = [1e-4, 5e-4, 1e-3, 3e-5, 3e-5, 5e-5, tenth, tenth, 1e-3, dot]
    assert errors == pytest.approx(expected, abs=6e-10)
    assert [reading.clock_error for reading in found.readings if isinstance(reading, Runout)] == [1.0, 1.0]


def test_units_of_a_toml_file_count_before_those_of_the_job() -> None:
    """A file in mm may be read for a job in inches."""
    text = 'units = "mm"\n' + as_toml(cells("kind=gap at=254 side=top gap=0.5"))
    (reading,) = read(text, INCH).readings
    assert (reading.at, reading.gap) == (0.254, 0.0005)


@pytest.mark.common_practice
def test_usual_errors_are_what_a_shop_expects() -> None:
    """Feelers before a caliper at a string, a dial before both, a tape last; each error with its reason."""
    usual = usual_errors()
    assert usual["runout"].error < usual["gap"].error < usual["string"].error < usual["toe"].error
    assert 0.05 <= usual["angle"].error <= 0.1 and 1e-5 <= usual["runout"].error <= 2e-5
    assert usual["gap"].error == 5e-5 and usual["string"].error == 2e-4 and usual["dot"].error == 1e-3
    for entry in usual.values():
        assert entry.low < entry.error < entry.high
        assert len(entry.reason.split()) > 8


def test_usual_error_of_every_kind_can_be_written_anew() -> None:
    """Each usual error, written as text in mm or degrees, is inside its own bounds."""
    for name, usual in usual_errors().items():
        unit = {"clock": " s", "angle": " deg", "beam": " deg"}.get(name, " m")
        assert usual.read(f"{usual.error}{unit}", inch=True) == pytest.approx(usual.error)
    assert to_si(1.0, usual_errors()["gap"].kind, True) == 0.0254
