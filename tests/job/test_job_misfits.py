"""Dimensions that do not fit together get one clear message."""

from __future__ import annotations

import pytest
from job_texts import CAST, FIXTURE, RESCUE, TRUSS, caught, changed, check_message, renamed, with_bracket

from axlewright.errors import GeometryError
from axlewright.job import parse_job
from axlewright.job.stretches import refuse_bare

GEOMETRY_FAULTS = {
    "fixture that only carries": (
        TRUSS + changed(FIXTURE, "[[fixture.support]]\nat = 1170\n", ""),
        ("[fixture.support]", "2 supports in a plane", "three supports", "leave [fixture] out"),
    ),
    "fixture support beyond the flange": (
        TRUSS + changed(FIXTURE, "at = 1170", "at = 1301"),
        ("at in [[fixture.support]] no. 3", "1301 mm", "0 to 1300 mm"),
    ),
    "fixture supports on one place": (
        TRUSS + changed(FIXTURE, "at = 650", "at = 140"),
        ("at in [[fixture.support]] no. 2", "140 mm", "another support", "50 mm apart"),
    ),
    "shim where the support does not hold": (
        TRUSS + changed(FIXTURE, "at = 1170", "at = 1170\nshim_behind = 2"),
        ("shim_behind in [[fixture.support]] no. 3", 'its plane is "vertical"', 'plane = "fore-aft"'),
    ),
    "shims beside a pre-bend left to the plan": (
        TRUSS + changed(FIXTURE, 'prebend = "given"', 'prebend = "best"'),
        ("prebend in [fixture]", '"best"', 'prebend = "given"'),
    ),
    "given pre-bend without a shim": (
        TRUSS + FIXTURE.replace("shim_under", "#").replace("shim_behind", "#"),
        ("prebend in [fixture]", "no support of this file has a shim", "shim_under"),
    ),
    "wall not thinner than the radius": (
        changed(
            RESCUE,
            "outside_diameter = 89          # caliper on bare metal\nwall = 8 ",
            "outside_diameter = 44\nwall = 22 ",
        ),
        ("wall in [housing.left_tube]", "22 mm", "radius"),
    ),
    "tack longer than its spacing": (
        changed(RESCUE, "tack_spacing = 50", "tack_spacing = 10"),
        ("tack_length", "10 mm"),
    ),
    "box without width": (changed(RESCUE, "width = 60  ", "#"), ("width in [[truss]] no. 1", "box")),
    "single web with width": (
        changed(CAST, 'form = "single web"', 'form = "single web"\nwidth = 2'),
        ("width", "single web"),
    ),
    "cast without casting": (
        changed(CAST, 'casting = "unknown"', "#"),
        ("casting in [housing.centre]", "missing"),
    ),
    "pressed with casting": (
        changed(TRUSS, "depth = 150", 'casting = "steel"\ndepth = 150'),
        ("casting", "pressed"),
    ),
    "truss beyond the right flange": (
        changed(changed(TRUSS, "to = 1134\n", "to = 1290\n"), "[1134, 90]", "[1290, 90]"),
        ("to in [[truss]] no. 1", "1290 mm", "1278 mm"),
    ),
    "truss beyond the left flange": (
        changed(changed(TRUSS, "from = 206 ", "from = 10 "), "[206, 90]", "[10, 90]"),
        ("from in [[truss]] no. 1", "10 mm", "22 mm"),
    ),
    "truss that ends before it begins": (
        changed(TRUSS, "to = 1134\n", "to = 100\n"),
        ("to in [[truss]]", "206 mm"),
    ),
    "truss lower than the centre": (
        changed(TRUSS, "[620, 190], [980, 190]", "[620, 140], [980, 140]"),
        ("top in [[truss]] no. 1", "140 mm", "155.02 mm"),
    ),
    "centre standing up between two good corners": (
        changed(TRUSS, "[280, 140], [620, 190], [980, 190], [1060, 140], ", ""),
        ("top in [[truss]] no. 1", "plate's thickness above"),
    ),
    "truss lower than the tube": (
        changed(TRUSS, "[206, 90]", "[206, 40]"),
        ("top in [[truss]] no. 1", "40 mm"),
    ),
    "bridging edge above the top": (
        changed(TRUSS, "thickness = 5\n", "thickness = 5\nclear_of_centre = 60\n"),
        ("top in [[truss]]", "bridging"),
    ),
    "bridge that ends on the centre": (
        changed(changed(CAST, "to = 47", "to = 38"), '[41, "8 1/4"], [44, 6], [47, 3]]', "[38, 8]]"),
        ("clear_of_centre", "welded to both tubes"),
    ),
    "truss wider than its tube": (
        changed(TRUSS, "width = 60", "width = 90"),
        ("width in [[truss]]", "90 mm", "89 mm"),
    ),
    "truss of no inside": (
        changed(TRUSS, "thickness = 5\n", "thickness = 25\n").replace("width = 60", "width = 50"),
        ("width in [[truss]]", "twice"),
    ),
    "top not beginning at from": (
        changed(TRUSS, "[206, 90]", "[210, 90]"),
        ("top (entry 1, number 1)", "206 mm"),
    ),
    "top not ending at to": (
        changed(TRUSS, "[1134, 90]", "[1100, 90]"),
        ("top (entry 6, number 1)", "1134 mm"),
    ),
    "top not rising": (changed(TRUSS, "[620, 190]", "[280, 190]"), ("top (entry 3, number 1)", "rise")),
    "opening outside its truss": (
        changed(TRUSS, "from = 555, to = 615", "from = 100, to = 160"),
        ("openings", "100 mm to 160 mm", "206 mm to 1134 mm"),
    ),
    "opening longer than its seam": (
        changed(TRUSS, "from = 555, to = 615", "from = 100, to = 1200"),
        ("within its seam",),
    ),
    "opening back to front": (
        changed(TRUSS, "from = 555, to = 615", "from = 615, to = 555"),
        ("to in [[truss.openings]]", "615 mm"),
    ),
    "openings over the whole truss": (
        changed(TRUSS, "from = 555, to = 615", "from = 206, to = 1134"),
        ("openings in [[truss]] no. 1", "tack"),
    ),
    "guard larger than the centre": (
        changed(RESCUE, "diameter = 220                 # of", "diameter = 320 # of"),
        ("diameter in [[guard]]", "285 mm"),
    ),
    "guard rim inside the hole": (
        changed(RESCUE, 'side = "front"', 'side = "rear"'),
        ("diameter in [[guard]]", "hole"),
    ),
    "guard deeper than half a ball": (
        changed(RESCUE, "dish = 25", "dish = 150"),
        ("dish in [[guard]]", "110 mm"),
    ),
    "guard opening outside its rim": (
        changed(changed(RESCUE, "from_clock = 12", "from_clock = 9"), "to_clock = 12", "to_clock = 3"),
        ("openings", "4:50 to 5:20", "9:00 to 3:00"),
    ),
    "guard opening longer than its rim": (
        changed(
            changed(changed(RESCUE, "from_clock = 12", "from_clock = 4"), "to_clock = 12", "to_clock = 8"),
            '["4:50", "5:20"]',
            "[5, 4.9]",
        ),
        ("openings", "within the rim"),
    ),
    "guard opening of no length": (
        changed(RESCUE, '["4:50", "5:20"]', '["4:50", "4:50"]'),
        ("openings", "two ends"),
    ),
    "guard all opening": (
        changed(RESCUE, '[["4:50", "5:20"], ["6:40", "7:10"]]', "[[12, 6], [6, 12]]"),
        ("openings", "tack"),
    ),
    "spacer on no perch": (
        changed(RESCUE, 'perch = "left perch"', 'perch = "left perhc"'),
        ("perch in [[spacer]] no. 1", 'Did you mean "left perch"?'),
    ),
    "spacer without any perch": (
        changed(
            TRUSS,
            "[welder]",
            '[[spacer]]\nname = "s"\nperch = "p"\nlength = 50\nwidth = 50\nthickness = 9\n[welder]',
        ),
        ("perch in [[spacer]]", "[[housing.perch]]"),
    ),
    "spacer longer than its perch": (
        changed(RESCUE, "length = 100", "length = 110"),
        ("length in [[spacer]]", "104 mm"),
    ),
    "spacer wider than its perch": (
        changed(RESCUE, "width = 80", "width = 90"),
        ("width in [[spacer]]", "84 mm"),
    ),
    "two spacers on one perch": (
        changed(RESCUE, 'perch = "right perch"', 'perch = "left perch"'),
        ("same place", '"left spacer"'),
    ),
    "perch off the tube": (
        changed(RESCUE, "at = 112 ", "at = 40 "),
        ("at in [[housing.perch]] no. 1", "-12 mm", "22 mm"),
    ),
    "perch on the centre": (
        changed(RESCUE, "at = 1188", "at = 940"),
        ("at in [[housing.perch]] no. 2", "888 mm"),
    ),
    "perch lower than the tube": (
        changed(RESCUE, "height = 62 ", "height = 40 "),
        ("height in [[housing.perch]]", "44.5 mm"),
    ),
    "perches on one place": (
        changed(RESCUE, "at = 1188", "at = 120"),
        ("[[housing.perch]] no. 2", "same place"),
    ),
    "perch under the truss": (changed(RESCUE, "at = 112 ", "at = 200 "), ("main truss", "same place")),
    "seal off the housing": (changed(RESCUE, "at = 960", "at = 1400"), ("at in [[housing.seal]]", "1300 mm")),
    "gusset longer than the tube": (
        changed(RESCUE, "length = 75 ", "length = 399 ").replace("offset = -150", "offset = 150"),
        ("length in [[gusset]] no. 1", "328 mm"),
    ),
    "gusset higher than the flange": (
        changed(RESCUE, "height = 54 ", "height = 70 "),
        ("height in [[gusset]] no. 1", "55.5 mm"),
    ),
    "gussets on one place": (changed(RESCUE, "clock = 9", "clock = 3"), ("[[gusset]] no. 2", "same place")),
    "bracket on the centre": (with_bracket(TRUSS, 700), ("at in [[bracket]]", "670 mm")),
    "bracket on the flange": (with_bracket(TRUSS, 40), ("at in [[bracket]]", "10 mm")),
    "bracket more than half round": (
        with_bracket(TRUSS, 400, length=200, lies="across"),
        ("length in [[bracket]]", "139.8 mm"),
    ),
    "bracket under the truss": (with_bracket(TRUSS, 400, clock=12), ("hose bracket", "main truss")),
    "bracket on a gusset": (with_bracket(RESCUE, 80, clock=3), ("hose bracket", "left front gusset")),
    "attachment names twice": (
        renamed(RESCUE, "left spacer", "main truss"),
        ("name in [[spacer]] no. 1", "another attachment"),
    ),
    "perch names twice": (renamed(RESCUE, "right perch", "left perch"), ("name in [[housing.perch]] no. 2",)),
    "seal names twice": (
        changed(
            RESCUE, "[[housing.seal]]", '[[housing.seal]]\nname = "right axle seal"\nat = 5\n[[housing.seal]]'
        ),
        ("name in [[housing.seal]] no. 2",),
    ),
    "centre past the flange": (
        changed(RESCUE, "offset = -150", "offset = -600"),
        ("offset in [housing.centre]", "1400 mm"),
    ),
    "centre lower than the tubes": (
        changed(TRUSS, "height = 300", "height = 85"),
        ("height in [housing.centre]", "89 mm"),
    ),
    "centre shallower than the tubes": (
        changed(TRUSS, "depth = 150", "depth = 70"),
        ("depth in [housing.centre]", "89 mm"),
    ),
    "centre wall too thick": (
        changed(
            changed(TRUSS, "depth = 150", "depth = 60"),
            "width = 300                    # tube to tube\nwall = 8",
            "width = 300\nwall = 40",
        ).replace("outside_diameter = 89", "outside_diameter = 50"),
        ("wall in [housing.centre]", "40 mm", "30 mm"),
    ),
    "hole larger than the centre": (
        changed(TRUSS, "opening_diameter = 220", "opening_diameter = 300"),
        ("opening_diameter", "300 mm"),
    ),
    "flange smaller than the tube": (
        changed(TRUSS, "diameter = 200", "diameter = 80"),
        ("diameter in [housing.knuckle_flange]", "89 mm"),
    ),
    "stand off the housing": (
        changed(RESCUE, "right = 1040", "right = 1400"),
        ("right in [supports]", "1300 mm"),
    ),
    "stands crossed": (changed(RESCUE, "left = 260", "left = 1100"), ("left in [supports]", "1040 mm")),
    "bead longer than any seam": (
        changed(TRUSS, "bead_length = 50", "bead_length = 480"),
        ("bead_length in [welder]", "480 mm", "longest stretch"),
    ),
}


@pytest.mark.parametrize(("text", "words"), GEOMETRY_FAULTS.values(), ids=GEOMETRY_FAULTS)
def test_dimensions_that_do_not_fit_get_one_message(text: str, words: tuple[str, ...]) -> None:
    """Dimensions that do not fit together are refused with one message that names place, value and remedy."""
    error = caught(text)
    assert type(error) is GeometryError
    check_message(error, words)


def test_the_usual_bead_may_stand_on_a_short_seam() -> None:
    """Only a bead length that the file states can be too long; the usual one is cut to the seam."""
    small = with_bracket(TRUSS[: TRUSS.index("[[truss]]")] + TRUSS[TRUSS.index("[welder]") :], 300, length=30)
    assert "longest stretch" in str(caught(small))
    assert parse_job(changed(small, "bead_length = 50", ""), "shop.toml").welder.bead_length == 0.05


def test_a_bare_housing_can_be_read_but_not_planned() -> None:
    """A housing without attachments may be measured and straightened; there is no welding of it to plan."""
    bare = parse_job(TRUSS[: TRUSS.index("[[truss]]")] + TRUSS[TRUSS.index("[welder]") :], "shop.toml")
    with pytest.raises(GeometryError) as caught_error:
        refuse_bare(bare)
    assert "nothing is welded on" in str(caught_error.value)
    assert "[[truss]]" in str(caught_error.value)
    refuse_bare(parse_job(TRUSS, "shop.toml"))
