"""One push of a press on one tube: how deep, how hard, and whether the tube bears it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, degrees, pi

from scipy.optimize import brentq

from axlewright.job.footprints import Footprint, feet
from axlewright.job.schema import Job
from axlewright.straightness.correct.press_bending import Push, Span, push_by, push_to_kink
from axlewright.straightness.correct.press_limits import (
    SADDLE,
    TUBE_STRAIN,
    USUAL_PRESS,
    WELD_STRAIN,
    YieldStrength,
    dent_load,
    skin_strain,
    slenderest,
    yield_strength,
)
from axlewright.straightness.correct.press_place import Place
from axlewright.straightness.correct.press_section import RoundTube
from axlewright.straightness.correct.press_wanted import Kink, Reached
from axlewright.straightness.correct.report import PressSet
from axlewright.units import format_force

SIDES = {12.0: "top", 3.0: "front", 6.0: "bottom", 9.0: "rear"}


@dataclass(frozen=True)
class Pressing:
    """A kink, where it is pressed in, and the tube with what it may be made of.

    Args:
        kink: what is wanted.
        place: supports and ram.
        tube: of the middle steel.
        strength: of the steel.
    """

    kink: Kink
    place: Place
    tube: RoundTube
    strength: YieldStrength

    def push(self, strength: float, pitch: float) -> Push:
        """The push that leaves the kink, for a steel and a pitch of the ram's load."""
        return push_to_kink(self.of(strength), Span(self.place.half, pitch), abs(self.kink.angle))

    def of(self, strength: float) -> RoundTube:
        """The tube in another steel."""
        return replace(self.tube, yield_strength=strength)

    def depth(self, push: Push, pitch: float) -> float:
        """How deep the tube is pushed, bending and shear together [m]."""
        return push.push + self.tube.shear_push(push.load, Span(self.place.half, pitch).arm)

    @property
    def first(self) -> float:
        """The first push: enough for the softest steel under a ram that touches at one point [m]."""
        return self.depth(self.push(self.strength.softest, 0.0), 0.0)

    @property
    def pushes(self) -> tuple[tuple[Push, float], ...]:
        """Push and pitch, low, middle, high.

        Soft steel under a point, usual steel under an even saddle, strong steel under a stiff saddle.
        """
        pairs = (
            (self.strength.low, 0.0),
            (self.strength.middle, SADDLE / 2.0),
            (self.strength.high, SADDLE),
        )
        return tuple((self.push(strength, pitch), pitch) for strength, pitch in pairs)

    def reached(self) -> Reached:
        """How much of the kink the first push leaves in strong, usual and soft steel [1]."""
        steels = (self.strength.high, self.strength.middle, self.strength.low)
        return Reached(*(self._left(steel) for steel in steels))

    def _left(self, strength: float) -> float:
        tube, span = self.of(strength), Span(self.place.half, 0.0)

        def miss(bending: float) -> float:
            return bending + tube.shear_push(push_by(tube, span, bending).load, span.arm) - self.first

        bending = float(brentq(miss, 1e-3 * self.first, self.first))
        return push_by(tube, span, bending).kink / abs(self.kink.angle)


def clock_of(kink: Kink) -> float:
    """Clock position the ram pushes on: the skin is pushed the way the place has to go."""
    if kink.plane == "vertical":
        return 6.0 if kink.angle > 0.0 else 12.0
    return 9.0 if kink.angle > 0.0 else 3.0


def pressing(job: Job, kink: Kink, place: Place) -> Pressing:
    """A kink on the job's tube."""
    shape = job.housing.left_tube if kink.tube == "left" else job.housing.right_tube
    strength = yield_strength(job.housing.steel)
    inside = shape.outside_diameter - 2.0 * shape.wall
    return Pressing(kink, place, RoundTube(shape.outside_diameter, inside, strength.middle), strength)


def press_set(job: Job, pressing: Pressing, old_welds: bool) -> PressSet:
    """The push with everything the shop needs for it, and why not where it must not be done."""
    pushes, clock = pressing.pushes, clock_of(pressing.kink)
    middle, pitch = pushes[1]
    depths = [pressing.depth(push, at) for push, at in pushes]
    weld = _worst_weld(job, pressing, middle, pitch) if old_welds else (0.0, "")
    made = PressSet(
        tube=pressing.kink.tube,
        push_at=pressing.place.at,
        supports=pressing.place.supports,
        clock=clock,
        side=SIDES[clock],
        angle=degrees(abs(pressing.kink.angle)),
        wanted=middle.left,
        first_push=pressing.first,
        push=(depths[0], depths[1], depths[2]),
        load=(pushes[0][0].load, middle.load, pushes[2][0].load),
        spring_back=depths[1] - middle.left,
        dent_load=dent_load(pressing.tube),
        saddle=SADDLE,
        worst_weld=weld,
    )
    return replace(made, refused=(*pressing.place.in_the_way, *_refused(job, pressing, made)))


def _worst_weld(job: Job, pressing: Pressing, push: Push, pitch: float) -> tuple[float, str]:
    """Strain at the most strained seam of what stands on the tube within the span, and its name."""
    span, worst = Span(pressing.place.half, pitch), (0.0, "")
    for foot in feet(job):
        away = max(foot.begin - pressing.place.at, pressing.place.at - foot.end, 0.0)
        if away < span.half:
            strain = skin_strain(pressing.tube, span, push, away) * _lever(foot, clock_of(pressing.kink))
            worst = max(worst, (strain, foot.name))
    return worst


def _lever(foot: Footprint, clock: float) -> float:
    """Distance of a foot's farther seam from the bending's neutral plane, over the radius."""
    edges = (foot.clock - foot.half_hours, foot.clock, foot.clock + foot.half_hours)
    return max(abs(cos((edge - clock) * pi / 6.0)) for edge in edges)


def _refused(job: Job, pressing: Pressing, made: PressSet) -> tuple[str, ...]:
    """Why the tube or the press does not bear this push."""
    if pressing.place.in_the_way:
        return ()
    push, pitch = pressing.pushes[1]
    tube, span, said = pressing.tube, Span(pressing.place.half, pitch), []
    wall = (tube.outside - tube.inside) / 2.0
    if tube.outside / wall > slenderest(pressing.strength.high):
        said.append("The wall is thin for its diameter: it would buckle instead of bending. Use heat lines.")
    if made.load[1] > made.dent_load:
        said.append(
            f"The wall would dent under the saddle at about {format_force(made.dent_load, job.inch)}, before the "
            "tube takes "
            f"the set at {format_force(made.load[1], job.inch)}. Use heat lines."
        )
    if made.load[1] > USUAL_PRESS:
        said.append(
            f"It takes about {format_force(made.load[1], job.inch)}; most workshop presses stop at 20 t "
            f"({format_force(USUAL_PRESS, job.inch)}), and the span cannot be longer. Send it out, or use heat "
            "lines."
        )
    if made.worst_weld[0] > WELD_STRAIN:
        said.append(
            f'The seams of "{made.worst_weld[1]}" would be strained by {100.0 * made.worst_weld[0]:.1f} %, more than '
            f"{100.0 * WELD_STRAIN:.1f}: an old weld could crack. Use counter-beads or heat lines."
        )
    if (strain := skin_strain(tube, span, push, 0.0)) > TUBE_STRAIN:
        said.append(
            f"The tube's skin would be strained by {100.0 * strain:.1f} %, more than {100.0 * TUBE_STRAIN:.0f}: "
            "it is bent too far to be pressed back."
        )
    return tuple(said)
