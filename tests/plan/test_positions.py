"""At which turns each bead may be welded, and where it is comfortable."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from reference.jobs import demo, plain_tube, strip

from axlewright.errors import JobFileError
from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.job.schema import Job
from axlewright.plan.positions import Positions, positions

DEMOS = ("truss-only", "rescue-truck", "cast-centre")
TURNS = (0.0, 90.0, 180.0, 270.0)
CLASSES = ({"PA", "PB", "PC", "PF"}, {"PD", "PE"})
ACROSS = 'lies = "across"'


@cache
def _assembled(text: str) -> Assembly:
    return assemble_job(Job.model_validate_json(text))


def assembled(job: Job) -> Assembly:
    """A job, meshed; the same job twice gives the same assembly."""
    return _assembled(job.model_dump_json())


def in_demo(name: str, turns: tuple[float, ...] = TURNS, overhead: bool = False) -> Positions:
    """Positions of a demo's beads."""
    return positions(assembled(demo(name)), turns, overhead)


def beads_of(name: str, attachment: str, seam: str) -> list[int]:
    """Numbers of the beads of a demo's seam."""
    assembly = assembled(demo(name))
    seams = [assembly.seams[bead.seam] for bead in assembly.beads]
    return [n for n, s in enumerate(seams) if (s.attachment, s.name) == (attachment, seam)]


def round_the_tube(length: float) -> Job:
    """A tube with a plate across its top whose seams are one bead each."""
    plate = strip("saddle", length=length).replace('lies = "along"', ACROSS)
    assert ACROSS in plate
    job = plain_tube(plate)
    return job.model_copy(update={"welder": job.welder.model_copy(update={"bead_length": length / 1000})})


@pytest.mark.parametrize("name", DEMOS)
def test_every_bead_of_the_demos_is_flat_or_horizontal_at_some_turn(name: str) -> None:
    """With the four usual turns every bead of every demo can be welded, and each of them in PA or PB at one."""
    found = in_demo(name)
    assert (found.allowed & found.comfortable).any(axis=1).all()
    assert set(found.names[found.comfortable]) <= {"PA", "PB"}
    assert set(found.names[found.allowed]) <= {"PA", "PB", "PC", "PF"}


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("turns", [TURNS, (0.0, 180.0), (90.0, 0.0, 200.0, 30.0), (0.0,)])
def test_a_bead_is_welded_wherever_it_is_not_overhead(name: str, turns: tuple[float, ...]) -> None:
    """The allowed turns are all that give PA, PB, PC or PF; overhead only where there is no such turn."""
    found = in_demo(name, turns, overhead=True)
    for names, allowed in zip(found.names.tolist(), found.allowed.tolist(), strict=True):
        best = next(wanted for wanted in CLASSES if wanted & set(names))
        assert allowed == [name in best for name in names]


def test_overhead_only_where_it_is_allowed_and_nothing_else_is_left() -> None:
    """Upright only: with leave the lower side of a gusset is welded overhead, its upper side still PB."""
    found = in_demo("rescue-truck", (0.0,), overhead=True)
    lower = beads_of("rescue-truck", "left front gusset", "lower side")
    upper = beads_of("rescue-truck", "left front gusset", "upper side")
    assert set(found.names[lower, 0]) == {"PD"}
    assert set(found.names[upper, 0]) == {"PB"}
    turned = in_demo("rescue-truck", TURNS, overhead=True)
    assert not set(turned.names[turned.allowed]) & {"PD", "PE"}


@pytest.mark.common_practice
def test_truss_side_follows_from_the_seam() -> None:
    """The front seam is welded upright or front side up, the rear seam upright or rear side up, never upside down."""
    found = in_demo("cast-centre")
    front = beads_of("cast-centre", "bridge truss", "front seam")
    rear = beads_of("cast-centre", "bridge truss", "rear seam")
    assert (found.allowed[front] == [True, True, False, False]).all()
    assert (found.allowed[rear] == [True, False, False, True]).all()


@pytest.mark.common_practice
def test_truss_over_the_centre_is_welded_uphill_where_the_housing_cannot_be_turned() -> None:
    """On stands that only hold it upright the truss climbs the centre from both sides and meets on the top."""
    found = in_demo("truss-only", (0.0,))
    beads = beads_of("truss-only", "main truss", "front seam")
    assembly = assembled(demo("truss-only"))
    for number in beads:
        if found.names[number, 0] != "PF":
            assert found.reverse[number, 0] == 0
            continue
        seam, bead = assembly.seams[assembly.beads[number].seam], assembly.beads[number]
        x = float(seam.at(seam.path, np.array((bead.start + bead.end) / 2))[0])
        # Arc length runs from left to right as the tape does, so left of the middle it climbs.
        assert found.reverse[number, 0] == (1 if x > assembly.section.middle else -1)
    assert set(found.names[beads, 0]) == {"PB", "PF"}


def test_stands_that_cannot_turn_are_refused_with_the_seam_and_what_would_help() -> None:
    """Upright only and no overhead: each seam in the way is named once, with the turn that would do."""
    with pytest.raises(JobFileError) as info:
        in_demo("rescue-truck", (0.0,))
    faults = {fault.allowed.split('"')[1]: fault for fault in info.value.faults}
    assert set(faults) == {"front guard"} | {
        f"{side} {face} gusset" for side in ("left", "right") for face in ("front", "rear")
    }
    rim, gusset = faults["front guard"], faults["left front gusset"]
    assert (rim.where, rim.value) == ("turns in [bench]", "[0]")
    assert '6 beads of the rim of "front guard"' in rim.allowed
    assert "Allow another turn: 90 (front side up);" in rim.remedy
    assert '4 beads of the lower side of "left front gusset"' in gusset.allowed
    assert "(PD)" in gusset.allowed
    assert "Allow another turn: 180 (upside down);" in gusset.remedy
    assert "overhead = true" in gusset.remedy


def test_one_more_turn_mends_it() -> None:
    """What the message proposes is enough: with those turns the same job is planned."""
    found = in_demo("rescue-truck", (0.0, 90.0, 180.0))
    assert found.allowed.any(axis=1).all()


def test_down_is_never_planned() -> None:
    """A bead over the top of a round tube would go down on one side: it is not welded upright, even with leave."""
    assembly = assembled(round_the_tube(60))
    assert len(assembly.beads) == 2
    with pytest.raises(JobFileError, match="PG") as info:
        positions(assembly, (0.0,), True)
    assert "smaller bead_length" in info.value.faults[0].remedy
    # Turned by 45 degrees all of it is on one flank of the tube, and climbs; turned the other way it climbs back.
    found = positions(assembly, (0.0, 45.0, 315.0), True)
    assert found.names.tolist() == [["PG", "PF", "PF"]] * 2
    assert found.allowed.tolist() == [[False, True, True]] * 2
    assert (found.reverse[:, 1] == -found.reverse[:, 2]).all()
    assert (found.reverse[:, 1] != 0).all()


def test_shorter_beads_mend_what_runs_over_the_top() -> None:
    """Cut into beads of 20 mm the same plate is welded upright, level on top and upward on both sides."""
    job = round_the_tube(60)
    short = job.model_copy(update={"welder": job.welder.model_copy(update={"bead_length": 0.02})})
    found = positions(assembled(short), (0.0,), False)
    assert set(found.names[:, 0]) == {"PB", "PF"}
    assert set(found.reverse[found.names == "PF"]) == {1, -1}


def test_turns_keep_their_order() -> None:
    """Columns are the turns as the job file lists them."""
    one, other = in_demo("truss-only", (0.0, 90.0)), in_demo("truss-only", (90.0, 0.0))
    assert other.turns == (90.0, 0.0)
    assert (one.names == other.names[:, ::-1]).all()
    assert (one.allowed == other.allowed[:, ::-1]).all()
    assert (one.reverse == other.reverse[:, ::-1]).all()
