"""Invented corrections, built by hand; no figure in them was measured or worked out by the package."""

from __future__ import annotations

from sample_straightness import CAUTIONS, LEFT_OUT, figure, sample_straightness

from axlewright.straightness.correct.report import (
    CorrectionReport,
    Decision,
    LinesPlan,
    Outcome,
    PlannedLine,
    PressPlan,
    PressSet,
    Way,
)


def planned_lines(count: int, way: Way = "counter-beads") -> tuple[PlannedLine, ...]:
    """Lines on both tubes, the first half of them in stage 1; neighbours lie close together."""
    clocks, sides = (
        (6.0, 5.5, 3.0, 6.5),
        ("bottom", "bottom, a little forward", "front", "bottom, a little back"),
    )
    found = []
    for k in range(count):
        start = (0.15 if k % 2 == 0 else 0.98) + 0.1 * (k // 8)
        ends = (start, start + 0.06) if k % 3 else (start + 0.06, start)
        found.append(
            PlannedLine(
                number=k + 1,
                name=f"{way.removesuffix('s')} {k + 1}",
                tube="left" if k % 2 == 0 else "right",
                clock=clocks[k // 2 % 4],
                side=sides[k // 2 % 4],
                start=ends[0],
                end=ends[1],
                turn=180.0 if clocks[k // 2 % 4] != 3.0 else 90.0,
                wait=150.0 if k % 4 == 3 else 0.0,
                begins=300.0 * k,
                seconds=14.0,
                spot_c=22.0 + 2.0 * k,
                stage=1 if k < (count + 1) // 2 else 2,
            )
        )
    return tuple(found)


def outcomes() -> tuple[Outcome, ...]:
    """What an invented correction does to four figures."""
    return (
        Outcome("camber left", "deg", 0.0, 0.25, figure(0.62, 0.07), figure(0.34, 0.11), figure(0.05, 0.16)),
        Outcome("camber right", "deg", 0.0, 0.25, figure(0.31, 0.07), figure(0.19, 0.1), figure(0.02, 0.14)),
        Outcome("toe left", "deg", 0.1, 0.2, figure(-0.02, 0.08), figure(0.03, 0.08), figure(0.08, 0.09)),
        Outcome("bow up", "m", 0.0, 5e-4, figure(-9e-4, 1e-4), figure(-5e-4, 2e-4), figure(-5e-5, 3e-4)),
    )


def lines_plan(way: Way = "counter-beads", count: int = 6) -> LinesPlan:
    """An invented plan of lines; none where `count` is 0."""
    return LinesPlan(
        way=way,
        lines=planned_lines(count, way),
        outcomes=outcomes() if count else (),
        inside=0.93,
        bench_time=3100.0,
        heat=(
            "Volts, amps and travel speed as on the work sheet.",
            "Never above 650 degC: look with the infrared thermometer beside the line, three seconds after the torch.",
        )
        if count
        else (),
        remedy="" if count else "No place on the bare tubes turns the flanges the way that is needed.",
        seat_c=64.0,
        candidates=48,
    )


def press_set(tube: str = "left", *, refused: tuple[str, ...] = (), clock: float = 6.0) -> PressSet:
    """An invented push."""
    return PressSet(
        tube=tube,
        push_at=0.43 if tube == "left" else 1.08,
        supports=(0.05, 0.62) if tube == "left" else (0.98, 1.25),
        clock=clock,
        side={6.0: "bottom", 3.0: "front"}.get(clock, "top"),
        angle=0.31,
        wanted=0.0009,
        first_push=0.0021,
        push=(0.0034, 0.0041, 0.0049),
        load=(98e3, 118e3, 139e3),
        spring_back=0.0032,
        dent_load=164e3,
        saddle=0.12,
        worst_weld=(0.0031, "front seam of the truss"),
        refused=refused,
    )


def sample_correction(
    *,
    decision: Decision = "correct",
    ways: tuple[Way, ...] = ("counter-beads",),
    count: int = 6,
    inch: bool = False,
    sets: tuple[PressSet, ...] | None = None,
) -> CorrectionReport:
    """A correction by some of the ways; the first of them is recommended.

    Args:
        decision: what is decided.
        ways: ways asked for.
        count: lines of each plan of lines.
        inch: whether the shop works in inches.
        sets: pushes of the press, or None for one on each tube.
    """
    check = sample_straightness(inch=inch)
    pushes = (press_set("left"), press_set("right", clock=3.0)) if sets is None else sets
    words = ("Right for an even bend that is free of welds.", "Stop at the first creak of a weld.")
    return CorrectionReport(
        job_name=check.job_name,
        job_reference=check.job_reference,
        inch=inch,
        shape=check.latest,
        verdict=check.verdict,
        decision=decision,
        why=(
            "Camber left is 0.62 deg and 0.25 deg is allowed; all else is inside.",
            "No crack was reported.",
        ),
        cycle=1,
        recommended=ways[0] if ways and decision == "correct" else None,
        lines=tuple(lines_plan(way, count) for way in ways if way != "press"),
        press=PressPlan(pushes, outcomes() if pushes else (), words) if "press" in ways else None,
        cautions=(*CAUTIONS, "Fire watch for an hour after the last arc."),
        left_out=LEFT_OUT,
    )
