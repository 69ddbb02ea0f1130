"""What a correction tells, as data: angles in degrees, lengths in metres, distances from the left flange."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from axlewright.straightness.report import Figure, ShapeReport, Verdict

Way = Literal["counter-beads", "heat lines", "press"]
WAYS: tuple[Way, ...] = ("counter-beads", "heat lines", "press")
Decision = Literal["leave it", "correct", "send out", "measure first"]


@dataclass(frozen=True)
class PlannedLine:
    """A counter-bead or heat line in its place in the order.

    Args:
        number: place in the order, from 1.
        name: e.g. "counter-bead 1".
        tube: "left" or "right".
        clock: round the tube, seen from the driver's right end [h].
        side: the same in words: "top", "front, a little below" and the like.
        start: distance where the torch begins [m].
        end: distance where it ends [m].
        turn: how the housing lies [deg].
        wait: cool-down before it, besides the usual time between beads [s].
        begins: when it begins, from the first arc of its stage [s].
        seconds: how long the torch burns [s].
        spot_c: skin temperature where it begins [degC].
        stage: 1 for the half that is done before measuring, 2 for the rest.
    """

    number: int
    name: str
    tube: str
    clock: float
    side: str
    start: float
    end: float
    turn: float
    wait: float
    begins: float
    seconds: float
    spot_c: float
    stage: int


@dataclass(frozen=True)
class Outcome:
    """What a figure is now, after the first half, and when all is done.

    Args:
        name: e.g. "camber left".
        unit: "deg" or "m".
        wanted: what it shall be.
        limit: how far it may lie from that.
        now: as measured.
        half: expected after the first stage.
        done: expected when all is done.
    """

    name: str
    unit: Literal["deg", "m"]
    wanted: float
    limit: float
    now: Figure
    half: Figure
    done: Figure


@dataclass(frozen=True)
class LinesPlan:
    """Counter-beads or heat lines that bring the housing back.

    Args:
        way: counter-beads or heat lines.
        lines: in order.
        outcomes: figure by figure.
        inside: how likely all limits are kept when all is done, as 0 to 1.
        bench_time: from the first arc to the last, of both stages together [s].
        heat: how to heat: settings and what not to exceed, as sentences.
        remedy: where `lines` is empty, why this way does not do.
        seat_c: warmest knuckle bearing seat on the way [degC], or None.
        candidates: places looked at.
    """

    way: Way
    lines: tuple[PlannedLine, ...]
    outcomes: tuple[Outcome, ...]
    inside: float
    bench_time: float
    heat: tuple[str, ...]
    remedy: str = ""
    seat_c: float | None = None
    candidates: int = 0


@dataclass(frozen=True)
class PressSet:
    """One push of a press on one tube.

    Args:
        tube: "left" or "right".
        push_at: distance of the ram [m].
        supports: distances of the two supports [m].
        clock: clock position of the skin the ram pushes on, seen from the driver's right end [h].
        side: the same in words.
        angle: wanted set as a kink [deg].
        wanted: wanted set under the ram over the supports' line [m].
        first_push: first push under the ram [m]: enough for the softest steel only.
        push: push that leaves the set, low, middle, high by yield strength [m].
        load: load at that push, low, middle, high [N].
        spring_back: what comes back of the middle push [m].
        dent_load: load at which the wall begins to dent under the saddle [N].
        saddle: length of the saddle along the tube that was reckoned with [m].
        worst_weld: strain at the most strained old weld [1], and its name; 0 and "" without any.
        refused: why not to press here; empty where pressing may do.
    """

    tube: str
    push_at: float
    supports: tuple[float, float]
    clock: float
    side: str
    angle: float
    wanted: float
    first_push: float
    push: tuple[float, float, float]
    load: tuple[float, float, float]
    spring_back: float
    dent_load: float
    saddle: float
    worst_weld: tuple[float, str]
    refused: tuple[str, ...] = ()


@dataclass(frozen=True)
class PressPlan:
    """Pushes of a press that bring the housing back.

    Args:
        sets: one for each tube and direction that needs it.
        outcomes: figure by figure.
        words: when pressing is right or wrong here, as sentences.
    """

    sets: tuple[PressSet, ...]
    outcomes: tuple[Outcome, ...]
    words: tuple[str, ...]


@dataclass(frozen=True)
class CorrectionReport:
    """What to do about a housing that is not straight.

    Args:
        job_name: name of the job.
        job_reference: the shop's number.
        inch: whether the shop works in inches.
        shape: the shape it is decided on.
        verdict: on that shape.
        decision: leave it, correct, send out, or measure first.
        why: the decision in sentences.
        cycle: which correction this would be, from 1.
        recommended: the way that is recommended, or None.
        lines: counter-beads and heat lines as far as asked for.
        press: the press, if asked for.
        cautions: to be shown with it.
        left_out: what the figures leave out.
    """

    job_name: str
    job_reference: str
    inch: bool
    shape: ShapeReport
    verdict: Verdict
    decision: Decision
    why: tuple[str, ...]
    cycle: int
    recommended: Way | None
    lines: tuple[LinesPlan, ...]
    press: PressPlan | None
    cautions: tuple[str, ...]
    left_out: tuple[str, ...]
