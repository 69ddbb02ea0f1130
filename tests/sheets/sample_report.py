"""An invented plan for the tests of drawings and sheets; nothing in it is measured or computed."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

import numpy as np
from sheets.sample_trade import trade_off, with_turns

from axlewright.plan.pieces import PlannedBead, PlannedTack, SeamLine
from axlewright.plan.report import (
    AxisLine,
    Band,
    HowSure,
    Matter,
    ModelSize,
    Plan,
    PlanBands,
    PlanReport,
    Prediction,
    Shape,
    Sides,
    Totals,
    Trace,
    UncertainInput,
    WelderNotes,
)

LENGTH = 1.3
MIDDLE = LENGTH / 2.0
AMBIENT = 18.0
CAUTIONS = (
    "Earth clamp on bare housing next to the seam: the current must not pass a bearing or a knuckle seat.",
    "Gear oil and solvent must be gone before any arc; chlorinated solvent near an arc makes poison gas.",
    "A closed hollow bursts when heated: open the vent of the truss before the first tack.",
    "Housing on rated stands; battery and control units disconnected if the axle is still on the vehicle.",
    "Zinc and paint fumes: grind coatings off 50 mm either side of the seam and work with the extractor on.",
    "Fire watch: extinguisher at hand and somebody who stays an hour after the last arc.",
    "Leave the drain openings open; a truss full of water rusts from the inside.",
    "Tack utilisation of the plan is 0.78: make every tack at least 10 mm long with a 4 mm throat.",
)
LEFT_OUT = (
    "Tacks are checked against their strength but do not yield in the model.",
    "Buckling of thin plate between beads.",
    "Residual stress from the making of the housing, which the first heat may release.",
    "Gaps at fit-up: each seam is taken as closed before it is tacked.",
    "Shrinkage coefficients carry 30 % or more; the band holds that, and your own measurements narrow it.",
)


@dataclass(frozen=True)
class Stretch:
    """A piece of a seam before it has a number: where it is and which round of the work it belongs to."""

    line: SeamLine
    from_s: float
    to_s: float


def straight(attachment: str, seam: str, x: tuple[float, float], *openings: tuple[float, float]) -> SeamLine:
    """A seam along the axle from one distance to another [m]."""
    length = abs(x[1] - x[0])
    path_s = np.linspace(0.0, length, 9)
    return SeamLine(attachment, seam, length, path_s, np.linspace(*x, 9), None, openings, False)


def upright(attachment: str, seam: str, x: float, length: float) -> SeamLine:
    """A seam across the axle: its distance from the left flange hardly changes [m]."""
    path_s = np.linspace(0.0, length, 5)
    return SeamLine(attachment, seam, length, path_s, np.full(5, x), None, (), False)


def all_round(attachment: str, x: tuple[float, float], width: float) -> SeamLine:
    """The seam round a rectangular plate, started at the middle of its front edge [m]."""
    along = x[1] - x[0]
    path_s = np.cumsum([0.0, along / 2, width, along, width, along / 2])
    path_x = np.array([sum(x) / 2, x[1], x[1], x[0], x[0], sum(x) / 2])
    return SeamLine(attachment, "all-round seam", float(path_s[-1]), path_s, path_x, None, (), True)


def clock_face(attachment: str, radius: float, *openings: tuple[float, float]) -> SeamLine:
    """A guard seam all round the centre, started at 12 o'clock; 3 o'clock is the driver's left."""
    path_s = np.linspace(0.0, 2.0 * np.pi * radius, 49)
    path_x = MIDDLE - radius * np.sin(path_s / radius)
    clock = (path_s / path_s[-1]) * 12.0
    clock[0] = 12.0
    return SeamLine(attachment, "rim seam", float(path_s[-1]), path_s, path_x, clock, openings, True)


def stretches(line: SeamLine, longest: float) -> list[Stretch]:
    """Cut what is welded of a seam into equal stretches no longer than `longest` [m]."""
    edges = [0.0, *(value for opening in line.openings for value in opening), line.length]
    found = []
    for start, end in zip(edges[0::2], edges[1::2], strict=True):
        ends = np.linspace(start, end, max(int(np.ceil((end - start) / longest - 1e-9)), 1) + 1)
        found += [Stretch(line, float(a), float(b)) for a, b in itertools.pairwise(ends)]
    return found


def far_and_alternate(work: list[Stretch]) -> list[Stretch]:
    """Shuffle like careful work: far stretches first, every second one run backwards."""
    step = next(n for n in (7, 5, 11, 3, 1) if len(work) % n)
    order = [work[(k * step) % len(work)] for k in range(len(work))]
    return [s if k % 2 == 0 else replace(s, from_s=s.to_s, to_s=s.from_s) for k, s in enumerate(order)]


def seam_lines(full: bool) -> tuple[SeamLine, ...]:
    """The truss alone, or with guard, two perch spacers and four gussets."""
    truss = (0.185, 1.115)
    openings = ((0.290, 0.330), (0.600, 0.640))
    lines = [straight("Truss", name, truss, *openings) for name in ("front seam", "rear seam")]
    if not full:
        return tuple(lines)
    lines.append(clock_face("Guard", 0.15, (0.4512, 0.4912)))
    lines += [all_round(f"{side} perch spacer", x, 0.06) for side, x in (("Left", (0.2, 0.28)),)]
    lines += [all_round("Right perch spacer", (1.02, 1.1), 0.06)]
    for side, x in (("Left", (0.02, 0.11)), ("Right", (1.28, 1.19))):
        for height in ("upper", "lower"):
            name = f"{side} {height} gusset"
            lines += [straight(name, "tube seam", x), upright(name, "knuckle seam", x[0], 0.07)]
    return tuple(lines)


def at(line: SeamLine, s: float) -> tuple[float, float | None]:
    """Distance from the left flange [m] and clock position at an arc length [m]."""
    x = float(np.interp(s, line.path_s, line.path_x))
    if line.path_clock is None:
        return x, None
    clock = float(np.interp(s, line.path_s, np.unwrap(line.path_clock, period=12.0))) % 12.0
    return x, clock if clock >= 1.0 else clock + 12.0


def direction(stretch: Stretch) -> str:
    """The hand of travel in words."""
    if stretch.line.path_clock is not None:
        return "clockwise" if stretch.to_s > stretch.from_s else "anticlockwise"
    from_x, to_x = at(stretch.line, stretch.from_s)[0], at(stretch.line, stretch.to_s)[0]
    if abs(to_x - from_x) < 0.2 * abs(stretch.to_s - stretch.from_s):
        return "down" if stretch.to_s > stretch.from_s else "up"
    return "towards right" if to_x > from_x else "towards left"


def names(work: list[Stretch]) -> dict[tuple[str, str, float], str]:
    """A letter for each seam and a number along it, by attachment, seam and lower end."""
    ends: dict[tuple[str, str], list[float]] = {}
    for piece in work:
        low = min(piece.from_s, piece.to_s)
        ends.setdefault((piece.line.attachment, piece.line.seam), []).append(low)
    return {
        (*seam, low): f"{'ABCDEFGHIJKLMNOP'[k]}{n}"
        for k, (seam, lows) in enumerate(sorted(ends.items()))
        for n, low in enumerate(sorted(lows), start=1)
    }


def make_beads(work: list[Stretch], start_s: float, every: int, pause_s: float) -> tuple[PlannedBead, ...]:
    """Number the stretches, with a pause after every so many beads."""
    beads, tags = [], names(work)
    clock_s = start_s
    for k, piece in enumerate(work):
        wait = pause_s if k and k % every == 0 else 0.0
        clock_s += wait
        length = abs(piece.to_s - piece.from_s)
        (from_x, from_clock), (to_x, to_clock) = at(piece.line, piece.from_s), at(piece.line, piece.to_s)
        spot = AMBIENT + 32.0 * (1.0 - np.exp(-k / 6.0)) + 3.0 * np.sin(1.7 * k)
        beads.append(
            PlannedBead(
                k + 1,
                tags[piece.line.attachment, piece.line.seam, min(piece.from_s, piece.to_s)],
                piece.line.attachment,
                piece.line.seam,
                piece.from_s,
                piece.to_s,
                from_x,
                to_x,
                from_clock,
                to_clock,
                direction(piece),
                clock_s,
                length / 0.006,
                wait,
                float(max(spot, AMBIENT)),
                length * 528e3,
            )
        )
        clock_s += length / 0.006 + 25.0
    return tuple(beads)


def make_tacks(lines: tuple[SeamLine, ...], longest: float) -> tuple[PlannedTack, ...]:
    """A tack at both ends of every stretch, far ones first."""
    places = {
        (k, 0.0 if line.closed and s == line.length else round(s, 4))
        for k, line in enumerate(lines)
        for piece in stretches(line, longest)
        for s in (piece.from_s, piece.to_s)
    }
    ordered = sorted(places)
    step = next(n for n in (17, 13, 7, 1) if len(ordered) % n)
    tacks = []
    for number in range(len(ordered)):
        k, s = ordered[(number * step) % len(ordered)]
        x, clock = at(lines[k], s)
        wait = 120.0 if number and number % 20 == 0 else 0.0
        name = (lines[k].attachment, lines[k].seam)
        spot = AMBIENT + 0.2 * number
        tacks.append(PlannedTack(number + 1, *name, s, x, clock, 30.0 * number, wait, spot, 5e3, 0.02))
    return tuple(tacks)


def heat_trace(place: str, events: tuple[float, ...], end_s: float, rise: float, tau: float) -> Trace:
    """A sum of dying exponentials after each event, on the shop's air."""
    time = np.linspace(0.0, end_s, 900)
    since = time[:, None] - np.asarray(events)[None, :]
    since = np.clip(since, 0.0, None)
    shape = (1.0 - np.exp(-since / 4.0)) * np.exp(-since / tau)
    return Trace(place, time, AMBIENT + rise * shape.sum(axis=1))


def make_traces(beads: tuple[PlannedBead, ...], end_s: float) -> tuple[Trace, ...]:
    """Two hot spots, a lukewarm one and both bearing seats."""
    starts = tuple(bead.start_s for bead in beads)
    return (
        heat_trace("Truss, front seam, bead 17", starts[2::9], end_s, 60.0, 240.0),
        heat_trace("Truss, rear seam, bead 30", starts[5::11], end_s, 52.0, 300.0),
        heat_trace("left bearing seat", starts[::3], end_s, 2.0, 1500.0),
        heat_trace("right bearing seat", starts[1::4], end_s, 1.6, 1700.0),
    )


def axis_line(vertical: float, fore_aft: float) -> AxisLine:
    """A parabola with a little of a third harmonic, zero at both flanges [m]."""
    share = np.linspace(0.0, 1.0, 61)
    bulge = 4.0 * share * (1.0 - share)
    fore_aft_line = fore_aft * (bulge + 0.06 * np.sin(3 * np.pi * share))
    # From right to left, as the solver counts: nothing may depend on the sense of an axis line.
    return AxisLine((share * LENGTH)[::-1], (vertical * bulge)[::-1], fore_aft_line[::-1])


def shape(factor: float, vertical: float) -> Shape:
    """A shape scaled by a factor; bow down in the middle, ends up."""
    return Shape(
        camber_deg=Sides(-0.084 * factor, -0.079 * factor),
        toe_deg=Sides(0.021 * factor, 0.018 * factor),
        bow_vertical=vertical * factor,
        bow_fore_aft=-0.00006 * factor,
        twist_deg=0.02 * factor,
    )


def prediction(vertical: float) -> Prediction:
    """A shape with a band of 35 % either side."""
    middle = shape(1.0, vertical)
    axis = axis_line(middle.bow_vertical, middle.bow_fore_aft)
    return Prediction(middle, shape(1.35, vertical), shape(0.65, vertical), axis, shape(1.02, vertical))


def make_plan(
    name: str, beads: tuple[PlannedBead, ...], tacks: tuple[PlannedTack, ...], vertical: float
) -> Plan:
    """A plan with sums that fit its beads."""
    end_s = beads[-1].start_s + beads[-1].arc_s
    arc = sum(bead.arc_s for bead in beads) + 1.5 * len(tacks)
    waits = sum(bead.wait_s for bead in beads) + sum(tack.wait_s for tack in tacks)
    hottest = max(bead.spot_c for bead in beads)
    totals = Totals(end_s, arc, waits, hottest, AMBIENT, 0.78, 41.0, 38.0)
    return Plan(name, tacks, beads, totals, prediction(vertical), make_traces(beads, end_s + 1800.0))


def plan_bands(totals: Totals) -> PlanBands:
    """Bands about the sums of a plan."""
    hot, seat, seal = (
        Band(value - 4.0, value + 0.5, value + 6.0) for value in (totals.hottest_spot_c, 41.0, 38.0)
    )
    bent = totals.distortion
    return PlanBands(hot, seat, seal, Band(0.61, 0.79, 1.08), Band(0.7 * bent, 1.02 * bent, 1.4 * bent))


def how_sure() -> HowSure:
    """Three inputs and what three figures depend on."""
    inputs = (
        UncertainInput("shrinkage along the bead", 0.72, 1.4, "a book"),
        UncertainInput("arc heat", 0.9, 1.1, "a paper"),
        UncertainInput("air cooling", 0.73, 1.38, "judgement"),
    )
    matters = (
        Matter("distortion", (0.66, 0.12, 0.001)),
        Matter("hottest_spot", (0.0, 0.63, 0.21)),
        Matter("tack_load", (0.43, 0.2, 0.1)),
    )
    return HowSure(200, 0.97, 0.885, 1.0, 0.86, 0.83, inputs, matters)


def sample_report(*, full: bool = True, inch: bool = False) -> PlanReport:
    """About 36 beads on a truss; with `full` also a guard, spacers and gussets (82 beads)."""
    lines = seam_lines(full)
    work = [
        piece
        for name in dict.fromkeys(line.attachment for line in lines)
        for piece in far_and_alternate(
            [piece for line in lines if line.attachment == name for piece in stretches(line, 0.0508)]
        )
    ]
    tacks = make_tacks(lines, 0.0508)
    after_tacks = tacks[-1].start_s + 600.0
    ours = make_plan("ours", make_beads(work, after_tacks, 9, 150.0), tacks, -0.00025)
    common = make_plan("common practice", make_beads(work[::-1], after_tacks, 5, 900.0), tacks, -0.00027)
    welder = WelderNotes("135", 22.0, 180.0, 0.006, 0.8, 528e3, 0.0035, 0.005, 3.6)
    model = ModelSize(12000, 21000, 279, 4.1, False)
    names = ("Support truck front axle", "MR-0417")
    ours = with_turns(ours)
    common = replace(common, totals=replace(common.totals, distortion=4.9e-4))
    ours, common = (replace(plan, how_sure=plan_bands(plan.totals)) for plan in (ours, common))
    facts = (*names, inch, LENGTH, model, welder, lines, ours, common, CAUTIONS, LEFT_OUT)
    return PlanReport(*facts, trade_off=trade_off(), how_sure=how_sure())
