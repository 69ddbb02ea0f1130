"""What must be said every time, in plain words, and what the prediction leaves out."""

from __future__ import annotations

from dataclasses import replace

from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.units import format_length

ALWAYS = (
    "Stands: housing and vehicle on rated stands, never on a jack alone. Springs under tension are made safe first.",
    "Clean first: old gear oil and solvent out of the housing before any arc. Chlorinated solvent near an arc "
    "makes poison gas: none in the shop while welding.",
    "Vent: a closed hollow must have an open vent before it gets hot. Leave every drain opening open.",
    "Fire: no oil, fuel or brake lines near the work, an extinguisher at hand, a fire watch for an hour afterwards.",
    "Fumes, eyes, skin: grind zinc and paint off first, draw the fumes away, helmet, gloves, covered skin. "
    "Guard the grinding disc.",
    "Earth clamp on bare housing close to the seam, never so that current passes a bearing, a seal or "
    "a knuckle seat.",
    "On the vehicle: battery and control units disconnected before welding.",
    "This part carries steering and brakes. Modification may need approval: the vehicle maker's data, local rules "
    "and a licensed inspector decide. This plan advises; it does not certify.",
)

LEFT_OUT = (
    "Steel is taken as elastic, with shrinkage put in from published formulas: tacks and plates do not yield in "
    "the sums, so tack loads err to the high side, and thin plates do not buckle.",
    "Conductivity, heat capacity and loss to the air are constant. Within about 15 seconds of an arc the skin near "
    "it is hotter than the spot temperature says.",
    "Stress left in the housing by its maker, by earlier repairs or by a bend, and gaps from fit-up, are not "
    "known here.",
    "Cold pressing, peening and what is bolted in later are not included.",
    "No published measurement of the bow of a welded axle tube was found to check against: until you measure your own "
    "housing before and after, the band is a judgement.",
)
"""What a prediction does not know, the last as long as the shop has no results of its own."""

CAST = {
    "unknown": "Unknown casting: do not weld on the centre. There is no default procedure; identify it first "
    "(spark test or chemistry). This plan welds on the tubes only.",
    "nodular iron": "Iron casting: do not weld on the centre without its own procedure (preheat, nickel filler, short "
    "peened beads, slow cooling). This plan welds on the tubes only.",
    "steel": "Cast steel centre: have the steel identified, preheat as its carbon equivalent asks, cool slowly.",
}


def cautions(job: Job, bench: OnTheBench, trial: Trial) -> tuple[str, ...]:
    """All cautions of a job: those of the casting, of overloaded tacks and of heat first, then the usual ones."""
    own = []
    if job.housing.centre.casting is not None:
        own.append(CAST[job.housing.centre.casting])
    own += _tacks(bench, trial) + _heat(job, bench, trial)
    return (*own, *ALWAYS)


def _tacks(bench: OnTheBench, trial: Trial) -> list[str]:
    over = int((trial.tack_utilisation > 1.0).sum())
    if not over:
        return []
    return [
        f"Tacks: {over} of {len(trial.tack_utilisation)} tacks are loaded beyond their design strength in an elastic "
        f"sum, at worst {trial.worst_tack:.1f} times. {_longer(bench, trial)} Look at each tack before the next "
        "bead; grind out and renew any that has cracked."
    ]


def _longer(bench: OnTheBench, trial: Trial) -> str:
    """The tack length that would hold, found by walking the same plan with longer tacks."""
    welder = bench.job.welder
    for factor in (1.5, 2.0, 2.5, 3.0):
        length = factor * welder.tack_length
        job = bench.job.model_copy(update={"welder": welder.model_copy(update={"tack_length": length})})
        if replace(bench, job=job).try_plan(trial.timeline.steps).worst_tack <= 1.0:
            return f"Tacks {format_length(length, bench.job.inch)} long would hold."
    return "Longer tacks alone would not hold: set them closer together as well."


def _heat(job: Job, bench: OnTheBench, trial: Trial) -> list[str]:
    said = _spot(job, trial)
    for kind, limit in (("bearing seat", job.limits.bearing_seat), ("seal", job.limits.seal)):
        warmest = job.ambient.temperature + bench.warmest(trial, kind)
        if limit is not None and warmest > limit:
            said.append(
                f"Heat: a {kind} is expected to reach {warmest:.0f} degC, above the limit of {limit:.0f} degC. "
                "Take the part out before welding, or wait longer near it."
            )
    return said


def _spot(job: Job, trial: Trial) -> list[str]:
    limit, hottest = job.limits.spot, job.ambient.temperature + trial.hottest
    if limit is None or hottest <= limit + 0.5:
        return []
    return [
        f"Heat: a bead is planned on a spot at {hottest:.0f} degC, above the job's limit of {limit:.0f} degC, which no "
        "wait of up to four hours keeps. Raise the limit, or wait for cooler air."
    ]
