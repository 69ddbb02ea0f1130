"""A job that is written and read back is the same job, in both units."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from job_texts import CAST, RESCUE, TRUSS, changed

from axlewright.job import Job, demo_names, demo_text, parse_job, write_job
from axlewright.job.outline import BRIDGE_RAMP
from axlewright.job.schema import (
    Ambient,
    Bench,
    Bracket,
    Centre,
    Fixture,
    FixtureSupport,
    Guard,
    Gusset,
    Housing,
    JobInfo,
    KnuckleFlange,
    Limits,
    Perch,
    Seal,
    Spacer,
    Straightness,
    Supports,
    Truss,
    TrussOpening,
    Tube,
    Welder,
)

metres = st.floats
texts = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=20)
prints = st.text(
    st.characters(exclude_categories=["C", "Zl", "Zp"], include_characters="\n\t"), max_size=50
).filter(lambda text: text.replace("\n", "").replace("\t", "").isprintable())


@st.composite
def housings(draw: st.DrawFn) -> Housing:
    """Housings between 1.3 and 1.6 m whose parts fit by construction."""
    length = draw(metres(1.3, 1.6))
    cast = draw(st.booleans())
    tube = st.builds(Tube, outside_diameter=metres(0.07, 0.1), wall=metres(0.005, 0.012))
    centre = Centre(
        offset=draw(metres(-0.1, 0.1)),
        height=draw(metres(0.25, 0.32)),
        depth=draw(metres(0.12, 0.25)),
        width=draw(metres(0.25, 0.32)),
        wall=draw(metres(0.005, 0.02)),
        opening_diameter=draw(st.none() | metres(0.1, 0.2)),
        opening_side="rear",
        casting="steel" if cast else None,
    )
    perch = {
        "length": draw(metres(0.09, 0.12)),
        "width": draw(metres(0.05, 0.09)),
        "height": draw(metres(0.055, 0.09)),
    }
    return Housing(
        family="cast" if cast else "pressed",
        length=length,
        steel=draw(st.sampled_from(["S235", "S275", "S355"])),
        left_tube=draw(tube),
        right_tube=draw(tube),
        centre=centre,
        knuckle_flange=KnuckleFlange(diameter=draw(metres(0.2, 0.25)), thickness=draw(metres(0.01, 0.03))),
        perches=(Perch(name="p1", at=0.15, **perch), Perch(name="p2", at=length - 0.15, **perch)),
        seals=draw(st.sampled_from([(), (Seal(name="seal", at=0.4),)])),
    )


@st.composite
def fixtures(draw: st.DrawFn) -> Fixture:
    """Fixtures of three to five supports, with and without shims."""
    given_shims = draw(st.booleans())
    supports = []
    for at in (0.1, 0.3, 0.55, 0.8, 1.1)[: draw(st.integers(3, 5))]:
        plane = draw(st.sampled_from(["vertical", "both"]))
        shims = {"shim_under": draw(metres(0, 0.03))} if given_shims else {}
        if given_shims and plane == "both":
            shims["shim_behind"] = draw(metres(0, 0.03))
        supports.append(FixtureSupport(at=at, plane=plane, stiffness=draw(metres(5e5, 1e9)), **shims))
    return Fixture(
        prebend="given" if given_shims else draw(st.sampled_from(["best", "none"])),
        shim_step=draw(metres(1e-5, 5e-3)),
        supports=tuple(supports),
    )


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Jobs whose dimensions fit together by construction, with any subset of attachments."""
    housing = draw(housings())
    start, end, plate = draw(metres(0.22, 0.26)), draw(metres(1.05, 1.08)), metres(0.003, 0.008)
    # A truss may bridge the centre only where it reaches both tubes beyond it.
    beyond = housing.length / 2 - housing.centre.offset + housing.centre.width / 2 + BRIDGE_RAMP
    before = beyond - housing.centre.width - 2 * BRIDGE_RAMP
    bridges = start < before and beyond < end
    box = draw(st.booleans())
    top = ((start, draw(metres(0.08, 0.2))), (0.3, draw(metres(0.26, 0.3))), (end, draw(metres(0.25, 0.3))))
    truss = Truss(
        name=draw(texts) + "-truss",
        form="box" if box else "single web",
        start=start,
        end=end,
        width=draw(metres(0.03, 0.06)) if box else None,
        thickness=draw(plate),
        top=top,
        openings=(
            TrussOpening(
                seam=draw(st.sampled_from(["front", "rear", "both"])), start=0.3, end=draw(metres(0.31, 0.35))
            ),
        ),
        clear_of_centre=draw(st.none() | metres(0.01, 0.04)) if bridges else None,
    )
    guard = Guard(
        name="guard",
        side="front",
        from_clock=draw(metres(1, 3)),
        to_clock=draw(metres(9, 11)),
        diameter=draw(metres(0.1, 0.23)),
        thickness=draw(plate),
        dish=draw(metres(0, 0.05)),
        openings=((draw(metres(4, 5)), draw(metres(5.1, 6))),),
    )
    spacer = Spacer(
        name="spacer",
        perch="p1",
        length=draw(metres(0.05, 0.09)),
        width=draw(metres(0.03, 0.05)),
        thickness=draw(metres(0.005, 0.05)),
    )
    gusset = Gusset(
        name="gusset",
        end=draw(st.sampled_from(["left", "right"])),
        clock=draw(metres(3, 9)),
        length=draw(metres(0.03, 0.055)),
        height=draw(metres(0.02, 0.05)),
        thickness=draw(plate),
    )
    bracket = Bracket(
        name="bracket",
        at=0.3,
        clock=draw(metres(5, 7)),
        length=draw(metres(0.02, 0.1)),
        height=draw(metres(0.02, 0.1)),
        thickness=draw(plate),
        lies=draw(st.sampled_from(["along", "across"])),
    )
    welder = Welder(
        process=draw(st.sampled_from([111, 121, 131, 135, 136, 138, 141])),
        volts=draw(metres(15, 30)),
        amps=draw(metres(80, 300)),
        travel_speed=draw(metres(0.001, 0.03)),
        wire_diameter=draw(metres(0.0006, 0.002)),
        wire_feed=draw(metres(0.02, 0.3)),
        efficiency=draw(st.none() | metres(0.3, 1)),
        bead_length=draw(metres(0.02, 0.06)),
        tack_length=draw(metres(0.005, 0.015)),
        tack_spacing=draw(metres(0.02, 0.1)),
    )
    bench = Bench(
        between_beads=draw(metres(0, 60)),
        tack_seconds=draw(metres(0, 30)),
        cool_down=draw(metres(60, 7200)),
        beads_between_cool_downs=draw(st.integers(1, 50)),
        turns=draw(st.lists(metres(0, 359.9), min_size=1, max_size=12, unique=True)),
        turn_time=draw(metres(30, 3600)),
        overhead=draw(st.booleans()),
        order=tuple(draw(st.permutations(["truss", "guard", "spacer"]))),
    )
    limits = Limits(
        spot=draw(st.none() | metres(40, 200)),
        bearing_seat=draw(metres(60, 150)),
        seal=draw(st.none() | metres(60, 150)),
    )
    straightness = Straightness(
        iso_13920=draw(st.none() | st.sampled_from(["E", "F", "G", "H"])),
        bow=draw(st.none() | metres(0.0001, 0.02)),
        camber=draw(st.none() | metres(0.01, 3)),
        camber_wanted=draw(metres(-5, 5)),
        toe=draw(st.none() | metres(0.01, 3)),
        source=draw(prints),
        tyre_diameter=draw(st.none() | metres(0.3, 1.6)),
    )
    return Job(
        units=draw(st.sampled_from(["mm", "inch"])),
        job=JobInfo(name=draw(texts), reference=draw(texts), notes=draw(prints)),
        housing=housing,
        trusses=(truss,),
        guards=draw(st.sampled_from([(), (guard,)])),
        spacers=draw(st.sampled_from([(), (spacer,)])),
        gussets=draw(st.sampled_from([(), (gusset,)])),
        brackets=draw(st.sampled_from([(), (bracket,)])),
        welder=welder,
        supports=Supports(left=draw(metres(0.1, 0.4)), right=draw(metres(0.8, 1.2))),
        fixture=draw(st.none() | fixtures()),
        bench=bench,
        limits=limits,
        straightness=straightness,
        ambient=Ambient(temperature=draw(metres(-30, 50))),
    )


@given(jobs())
def test_any_job_reads_back_as_itself(job: Job) -> None:
    """Whatever its dimensions and unit, a written job is read as exactly the same job."""
    assert parse_job(write_job(job), "written") == job


@pytest.mark.parametrize("name", demo_names())
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_demos_read_back_in_both_units(name: str, units: str) -> None:
    """A demo written in either unit is the same job apart from the unit it names."""
    job = parse_job(demo_text(name), name)
    other = job.model_copy(update={"units": units})
    assert parse_job(write_job(other), "written") == other


def test_written_numbers_are_short() -> None:
    """Tape readings come out as they went in: 89, 54.5, 15 min, a quarter turn as 90."""
    assert "outside_diameter = 89\n" in write_job(parse_job(RESCUE, "demo"))
    assert "length = 54.5\n" in write_job(parse_job(CAST, "demo"))
    assert 'cool_down = "15 min"' in write_job(parse_job(CAST, "demo"))
    assert "turns = [0, 90, 180, 270]\n" in write_job(parse_job(CAST, "demo"))


def test_the_usual_bead_on_a_short_seam_reads_back() -> None:
    """A bead length that was left out stays left out, so that short seams may keep it."""
    gussets = RESCUE[: RESCUE.index("[[truss]]")] + RESCUE[RESCUE.index("[[gusset]]") :]
    small = (
        changed(gussets, "bead_length = 50", "#")
        .replace("length = 75", "length = 40")
        .replace("height = 54", "height = 40")
    )
    job = parse_job(small, "demo")
    assert job.welder.bead_length == 0.05
    assert parse_job(write_job(job), "written") == job


def test_the_file_is_in_shop_units_and_the_model_in_si() -> None:
    """A reading in mm, mm/min, m/min or minutes becomes metres, m/s and seconds."""
    job = parse_job(TRUSS, "demo")
    assert job.housing.length == 1.3
    assert job.welder.travel_speed == 0.0045
    assert job.welder.wire_feed == pytest.approx(6.5 / 60.0, abs=1e-12)
    assert parse_job(RESCUE, "demo").bench.cool_down == 900.0
    assert parse_job(RESCUE, "demo").bench.turn_time == 120.0


def test_the_usual_turns_are_those_of_the_demo() -> None:
    """A file that says nothing of turns has the four quarter turns, 2 minutes each, and nothing overhead."""
    assert parse_job(TRUSS, "demo").bench == parse_job(RESCUE, "demo").bench
