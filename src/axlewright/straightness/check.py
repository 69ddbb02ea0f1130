"""A check of straightness: before the work, after it, and what changed."""

from __future__ import annotations

from axlewright.errors import Fault, ReadingsError
from axlewright.job.schema import Job
from axlewright.straightness.fit.fitting import ShapeFit, fit_shape, only_totals
from axlewright.straightness.fit.judging import judge
from axlewright.straightness.fit.shape_reports import change_report, shape_report
from axlewright.straightness.readings.reading import ReadingSet
from axlewright.straightness.report import StraightnessReport

CAUTIONS = (
    "Stands: the housing on rated stands or in a cradle it cannot roll out of; fingers clear of it while it turns.",
    "Cold: measure when the whole housing has the temperature of the shop. One side 10 degC warmer than the other "
    "bends a housing of 1.3 m by about 0.3 mm (0.01 in).",
    "Laser: never look into the beam, and keep it off others.",
    "This part carries steering and brakes. The vehicle maker's data, local rules and a licensed inspector decide "
    "what is straight enough. This check advises; it does not certify.",
)

LEFT_OUT = (
    "Each tube is taken to bend evenly as far as its truss reaches and to run straight beyond, with a kink at the "
    "centre. A dent, or an S-bend within one tube, is not in it; it shows as readings that disagree.",
    "Tubes are taken as round, both with the diameter of the job file; straightedge, string and surface as straight. "
    "A string sags, and a tube 0.2 mm thicker than its fellow looks 0.1 mm nearer to it.",
    "Flanges are taken as square with their tubes within 0.05 deg (standard deviation, a judgement), unless they "
    "were read.",
    "What knuckles, joints, bearings and hubs add to camber and toe on the vehicle.",
    "90 % means: of a hundred such figures, with reading errors as large as they are said to be, the truth lies below "
    "the band in five and above it in five.",
)

_ONLY_TOTALS = (
    "Dial totals alone cannot tell an oval tube from a bent one: an oval tube, however straight, has a total of half "
    "the difference of its diameters."
)


def straightness_report(
    job: Job, before: ReadingSet | None, after: ReadingSet | None = None
) -> StraightnessReport:
    """Whether a housing is straight, from readings before the work, after it, or both; the verdict is on the latest.

    Raises:
        ReadingsError: there is no set, or one without a reading.
    """
    first, last = (None if readings is None else fit_shape(job, readings) for readings in (before, after))
    latest = last or first
    if latest is None:
        remedy = "Give a file of readings taken before the work, after it, or one of each."
        raise ReadingsError(
            Fault("readings", "missing", "a check of straightness stands on at least one set", remedy)
        )
    return StraightnessReport(
        job_name=job.job.name,
        job_reference=job.job.reference,
        inch=job.inch,
        before=shape_report(first) if first else None,
        after=shape_report(last) if last else None,
        change=change_report(first, last) if first and last else None,
        verdict=judge(job, latest),
        cautions=CAUTIONS,
        left_out=_left_out([fit for fit in (first, last) if fit]),
    )


def _left_out(fits: list[ShapeFit]) -> tuple[str, ...]:
    """What the figures leave out, that of plain dial readings first."""
    return (_ONLY_TOTALS, *LEFT_OUT) if any(only_totals(fit.readings) for fit in fits) else LEFT_OUT
