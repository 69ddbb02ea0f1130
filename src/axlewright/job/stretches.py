"""Stretches of seam between openings and corners, and whether beads and tacks fit on them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from axlewright.errors import Fault, GeometryError
from axlewright.job.faults import Misfit
from axlewright.job.fit_attachments import welded_hours
from axlewright.job.outline import Outline
from axlewright.job.schema import Job


def bead_misfits(job: Job) -> Iterator[Misfit]:
    """Beads or tacks longer than the longest stretch; a bare housing may still be measured and straightened."""
    lengths = list(stretch_lengths(job))
    if not lengths:
        return
    welder, shop = job.welder, Outline(job).shop
    allowed = f"must be no more than the longest stretch of seam, {shop(max(lengths))}"
    if welder.tack_length > max(lengths):
        yield Misfit(("welder", "tack_length"), shop(welder.tack_length), allowed, "Shorten the tacks.")
    elif "bead_length" in welder.model_fields_set and welder.bead_length > max(lengths):
        remedy = "Shorten bead_length, or leave it out for the usual 50 mm or 2 in."
        yield Misfit(("welder", "bead_length"), shop(welder.bead_length), allowed, remedy)


def refuse_bare(job: Job) -> None:
    """Refuse to plan the welding of a job that welds nothing on.

    Raises:
        GeometryError: nothing is welded on.
    """
    if not job.attachments:
        remedy = "Add [[truss]], [[guard]], [[spacer]], [[gusset]] or [[bracket]] to the job file"
        raise GeometryError(Fault("the job", "", "nothing is welded on, so there is nothing to plan", remedy))


def stretch_lengths(job: Job) -> Iterator[float]:
    """Length of every stretch of every seam [m]."""
    outline = Outline(job)
    for truss in job.trusses:
        aside = (truss.width or truss.thickness) / 2.0
        for seam in ("front", "rear"):
            for begin, end in outline.welded_spans(truss, seam):
                yield outline.skin_length(begin, end, aside)
    for guard in job.guards:
        yield from ((end - begin) * math.pi * guard.diameter / 12.0 for begin, end in welded_hours(guard))
    yield from (edge for spacer in job.spacers for edge in (spacer.length, spacer.width))
    yield from (edge for gusset in job.gussets for edge in (gusset.length, gusset.height))
    yield from (bracket.length for bracket in job.brackets)
