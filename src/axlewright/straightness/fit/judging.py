"""Whether a housing is straight enough."""

from __future__ import annotations

import numpy as np

from axlewright.job.schema import Job
from axlewright.straightness.axis import ANGLES, PLANES, AxisFit
from axlewright.straightness.fit.figures import WAY, angles, bow, figures, line_of, zone
from axlewright.straightness.fit.fitting import ShapeFit
from axlewright.straightness.fit.iso_13920 import StraightnessClass, straightness_tolerance
from axlewright.straightness.fit.tyre import figure_at_tyre
from axlewright.straightness.report import Answer, Figure, LimitCheck, Verdict
from axlewright.units import format_angle, format_deflection, format_length

_USUAL_CLASS: StraightnessClass = "E"


def judge(job: Job, fit: ShapeFit) -> Verdict:
    """Hold a shape against every limit of the job, its 90 % bands considered.

    A limit is kept where the whole band lies inside it and broken where the whole band lies outside; else it cannot be
    told. Without any limit class E of ISO 13920 is taken.
    """
    checks = limit_checks(job, fit.axis)
    answers = [check.answer for check in checks]
    answer: Answer = "inside"
    if "outside" in answers:
        answer = "outside"
    elif "cannot be told" in answers:
        answer = "cannot be told"
    tyre = job.straightness.tyre_diameter
    at_tyre = _at_tyre(fit.axis, tyre) if tyre else None
    return Verdict(answer, _words(answer, checks, job.inch), tolerance_in_words(job), checks, at_tyre, tyre)


def limit_checks(job: Job, axis: AxisFit) -> tuple[LimitCheck, ...]:
    """Every limit of the job with the figure it is on."""
    wanted, checks = job.straightness, []
    by_name = dict(zip(ANGLES, angles(axis), strict=True))
    for kind, middle, limit in (
        ("camber", wanted.camber_wanted, wanted.camber),
        ("toe", wanted.toe_wanted, wanted.toe),
    ):
        if limit is not None:
            checks += [
                _check(f"{kind} {end}", "deg", middle, limit, by_name[f"{kind}_{end}"])
                for end in ("left", "right")
            ]
    lines = [line_of(axis, plane) for plane in PLANES]
    if wanted.bow is not None:
        checks += [_check(f"bow {WAY[line.plane]}", "m", 0.0, wanted.bow, bow(axis, line)) for line in lines]
    if (iso := _iso(job)) is not None:
        name = "straightness" if wanted.bow is not None else "bow"
        checks += [_check(f"{name} {WAY[line.plane]}", "m", 0.0, iso[1], zone(axis, line)) for line in lines]
    return tuple(checks)


def tolerance_in_words(job: Job) -> str:
    """What the housing is judged by, with its source."""
    wanted, parts = job.straightness, []
    if wanted.camber is not None:
        parts.append(f"camber {_allowed(wanted.camber_wanted, wanted.camber, 'deg', job.inch)}")
    if wanted.toe is not None:
        parts.append(f"toe {_allowed(wanted.toe_wanted, wanted.toe, 'deg', job.inch)} a flange")
    if wanted.bow is not None:
        parts.append(f"bow up to {format_deflection(wanted.bow, job.inch)}")
    given = ""
    if parts:
        given = "; ".join(parts) + f" ({wanted.source or 'given in the job file without a source'})"
    if (iso := _iso(job)) is None:
        return given
    size, length = format_deflection(iso[1], job.inch), format_length(job.housing.length, job.inch)
    standard = f"ISO 13920 class {iso[0]}, straightness {size} over {length}"
    return (
        f"{given}; {standard}" if given else standard + ("" if wanted.iso_13920 else ", as no limit is given")
    )


def _iso(job: Job) -> tuple[str, float] | None:
    """Class that is asked for, or taken where no limit is given, with its tolerance [m]."""
    wanted = job.straightness
    free = wanted.bow is None and wanted.camber is None and wanted.toe is None
    grade = wanted.iso_13920 or (_USUAL_CLASS if free else None)
    return None if grade is None else (grade, straightness_tolerance(grade, job.housing.length))


def _check(name: str, unit: str, wanted: float, limit: float, figure: Figure) -> LimitCheck:
    low, high = wanted - limit, wanted + limit
    answer: Answer = "cannot be told"
    if figure.told and low <= figure.low and figure.high <= high:
        answer = "inside"
    elif figure.told and (figure.low > high or figure.high < low):
        answer = "outside"
    return LimitCheck(name, "deg" if unit == "deg" else "m", wanted, limit, figure, answer)


def _words(answer: Answer, checks: tuple[LimitCheck, ...], inch: bool) -> str:
    """The verdict as one sentence that names the worst figure."""
    worst = max((check for check in checks if check.answer == answer), key=_share)
    allowed = f"{_allowed(worst.wanted, worst.limit, worst.unit, inch)} is allowed"
    if not worst.figure.told:
        return f"Cannot be told: these readings do not tell {worst.name}, and {allowed}."
    value, low, high = (
        _shown(number, worst.unit, inch)
        for number in (worst.figure.value, worst.figure.low, worst.figure.high)
    )
    found = f"{value} (90 % band {low} to {high}), and {allowed}"
    if answer == "inside":
        return f"Straight enough: nearest to its limit is {worst.name} with {found}."
    return f"{'Not straight' if answer == 'outside' else 'Cannot be told'}: {worst.name} is {found}."


def _share(check: LimitCheck) -> float:
    """How much of its limit a figure takes; one that is not told comes first."""
    if not check.figure.told:
        return float("inf")
    return abs(check.figure.value - check.wanted) / check.limit


def _allowed(wanted: float, limit: float, unit: str, inch: bool) -> str:
    shown = _shown(limit, unit, inch)
    return f"{_shown(wanted, unit, inch)} ± {shown}" if wanted else f"± {shown}"


def _shown(number: float, unit: str, inch: bool) -> str:
    return format_angle(number) if unit == "deg" else format_deflection(number, inch)


def _at_tyre(axis: AxisFit, diameter: float) -> tuple[Figure, Figure, Figure]:
    """Toe left, right and both together at the tyre [m]."""
    rows = axis.span.angles()[2:4]
    left, right, both = figures(axis, np.vstack([rows, rows.sum(axis=0)]), degrees=True)
    # Both wheels share their sum, so x = D sin adds up within 0.01 % for any toe a housing has.
    return tuple(figure_at_tyre(one, diameter) for one in (left, right, both))  # type: ignore[return-value]
