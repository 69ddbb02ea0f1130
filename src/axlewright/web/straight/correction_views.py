"""What a correction says, ready for the page: the ways side by side, each with its places, order and outcome."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from axlewright.tasks.measuring_outline import HousingOutline
from axlewright.web.straight import words
from axlewright.web.straight.correction_picture import from_behind, press_picture, unrolled
from axlewright.web.straight.figure_rows import limit_strip

Tree = Mapping[str, Any]

_LIES = {0: "as on the vehicle", 90: "front side up", 180: "upside down", 270: "rear side up"}
_SIZES = ("wide", "narrow")
_ONE = {"counter-beads": "counter-bead", "heat lines": "heat line"}


@dataclass(frozen=True)
class OutcomeRow:
    """A limited figure now, after the first half and when all is done."""

    name: str
    limit: str
    now: str
    half: str
    half_band: str
    done: str
    done_band: str
    answer: str
    strip: Markup


@dataclass(frozen=True)
class Step:
    """A line in its place in the order; `turned` says how to lay the housing first, "" where it stays."""

    number: int
    tube: str
    start: str
    end: str
    way: str
    clock: str
    side: str
    turned: str
    wait: str
    torch: str
    spot_c: float
    stage: int


@dataclass(frozen=True)
class WayView:
    """A way to bring the housing back.

    Args:
        way: its name.
        recommended: whether it is the one to take.
        count: how many lines or pushes, in words.
        why_not: why it does not do here; empty where it may.
        inside: how likely all limits are kept, 0 to 1; None where that is not worked out.
        bench_time: in words, or "".
        stages: lines of the first half and of the rest.
        outcomes: figure by figure.
        pictures: housing from behind and tubes unrolled, or each push, for wide and narrow screens.
        heat: how to heat.
        pushes: each push of a press.
        remarks: what else is said.
    """

    way: str
    recommended: bool
    count: str
    why_not: tuple[str, ...]
    inside: float | None
    bench_time: str
    stages: tuple[tuple[Step, ...], ...]
    outcomes: tuple[OutcomeRow, ...]
    pictures: tuple[tuple[str, Markup, Markup], ...]
    heat: tuple[str, ...]
    pushes: tuple[Mapping[str, Any], ...]
    remarks: tuple[str, ...]


def way_views(report: Tree, outline: HousingOutline) -> tuple[WayView, ...]:
    """The ways that were looked at, the recommended one first.

    Args:
        report: correction.json.
        outline: the housing.
    """
    found = [_lines_view(report, plan, outline) for plan in report["lines"]]
    if report["press"] is not None:
        found.append(_press_view(report, report["press"], outline))
    return tuple(sorted(found, key=lambda view: not view.recommended))


def _lines_view(report: Tree, plan: Tree, outline: HousingOutline) -> WayView:
    lines, way = plan["lines"], plan["way"]
    drawn: tuple[tuple[str, Markup, Markup], ...] = ()
    if lines:
        views = (
            ("From behind, as the driver sits", from_behind),
            ("Tubes unrolled, seen from outside", unrolled),
        )
        drawn = tuple(
            (title, *(Markup(draw(lines, outline, size, way)) for size in _SIZES))  # type: ignore[misc]
            for title, draw in views
        )
    looked = f"places looked at: {plan['candidates']}" if plan["candidates"] else ""
    return WayView(
        way=way,
        recommended=report["recommended"] == way,
        count=words.counted(len(lines), _ONE[way]),
        why_not=(plan["remedy"],) if plan["remedy"] else (),
        inside=plan["inside"] if lines else None,
        bench_time=words.duration(plan["bench_time"]) if lines else "",
        stages=tuple(steps for stage in (1, 2) if (steps := _steps(lines, stage, report["inch"]))),
        outcomes=_outcomes(plan["outcomes"], report["inch"]) if lines else (),
        pictures=drawn,
        heat=tuple(plan["heat"]),
        pushes=(),
        remarks=(looked,) if looked else (),
    )


def _steps(lines: Sequence[Tree], stage: int, inch: bool) -> tuple[Step, ...]:
    """Lines of a stage in order."""
    found, lies = [], None
    for one in (line for line in lines if line["stage"] == stage):
        turned = (
            "" if one["turn"] == lies else _LIES.get(round(one["turn"]) % 360, f"turned {one['turn']:g}°")
        )
        lies = one["turn"]
        found.append(
            Step(
                number=one["number"],
                tube=one["tube"],
                start=words.length(one["start"], inch),
                end=words.length(one["end"], inch),
                way="to the right" if one["end"] > one["start"] else "to the left",
                clock=words.clock(one["clock"]),
                side=one["side"],
                turned=turned,
                wait=words.duration(one["wait"]) if one["wait"] >= 1.0 else "",
                torch=f"{one['seconds']:.0f} s",
                spot_c=one["spot_c"],
                stage=stage,
            )
        )
    return tuple(found)


def _outcomes(outcomes: Sequence[Tree], inch: bool) -> tuple[OutcomeRow, ...]:
    found = []
    for one in outcomes:
        unit, done = one["unit"], one["done"]
        answer = expected(one)
        check = {**one, "figure": done, "answer": answer}
        found.append(
            OutcomeRow(
                one["name"],
                words.allowed(one["wanted"], one["limit"], unit, inch),
                words.value(one["now"], unit, inch),
                words.value(one["half"], unit, inch),
                words.band(one["half"], unit, inch),
                words.value(done, unit, inch),
                words.band(done, unit, inch),
                answer,
                Markup(limit_strip(check, one["now"], inch)),
            )
        )
    return tuple(found)


def expected(outcome: Tree) -> str:
    """Whether a limit is kept when all is done: by the whole band, by none of it, or by some."""
    low, high, done = (
        outcome["wanted"] - outcome["limit"],
        outcome["wanted"] + outcome["limit"],
        outcome["done"],
    )
    if not done["told"]:
        return "cannot be told"
    if low <= done["low"] and done["high"] <= high:
        return "inside"
    return "outside" if done["low"] > high or done["high"] < low else "cannot be told"


def _press_view(report: Tree, press: Tree, outline: HousingOutline) -> WayView:
    sets, inch = press["sets"], report["inch"]
    refused = tuple(dict.fromkeys(reason for one in sets for reason in one["refused"]))
    usable = [one for one in sets if not one["refused"]]
    return WayView(
        way="press",
        recommended=report["recommended"] == "press",
        count=words.counted(len(sets), "push") if len(sets) == 1 else f"{len(sets)} pushes",
        why_not=refused,
        inside=None,
        bench_time="",
        stages=(),
        outcomes=_outcomes(press["outcomes"], inch) if usable else (),
        pictures=tuple(
            (
                f"Push {number}: {one['side']} up ({words.clock(one['clock'])})",
                *(Markup(press_picture(one, outline, size)) for size in _SIZES),
            )  # type: ignore[misc]
            for number, one in enumerate(sets, start=1)
            if not one["refused"]
        ),
        heat=(),
        pushes=tuple(_push(one, inch) for one in usable),
        remarks=tuple(press["words"]),
    )


def _push(one: Tree, inch: bool) -> dict[str, Any]:
    """A push in words: where, how far, when to stop."""
    low, middle, high = (words.small(push, inch) for push in one["push"])
    loads = [words.force(load, inch) for load in one["load"]]
    left, right = (words.length(at, inch) for at in sorted(one["supports"]))
    strain, weld = one["worst_weld"]
    facts = [
        ("supports at", f"{left} and {right}"),
        (
            "ram at",
            f"{words.length(one['push_at'], inch)}, on the {one['side']} ({words.clock(one['clock'])})",
        ),
        ("saddle along the tube", words.length(one["saddle"], inch)),
        ("wanted set under the ram", words.small(one["wanted"], inch)),
        ("of the push springs back", words.small(one["spring_back"], inch)),
        ("wall begins to dent at", words.force(one["dent_load"], inch)),
    ]
    if weld:
        facts.append(("most strained old weld", f"{100.0 * strain:.2f} % at the {weld}"))
    return {
        "tube": one["tube"],
        "first": words.small(one["first_push"], inch),
        "push": middle,
        "push_band": f"{low} to {high}",
        "load": loads[1],
        "load_band": f"{loads[0]} to {loads[2]}",
        "facts": facts,
        "stop": f"Push, release, measure, and push a little farther only while the set is short of "
        f"{words.small(one['wanted'], inch)}. Never push beyond {high}, and never load beyond "
        f"{words.force(one['dent_load'], inch)}.",
    }
