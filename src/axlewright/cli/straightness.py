"""What the terminal shows of a check of straightness."""

from __future__ import annotations

from collections.abc import Callable

from rich.console import Console
from rich.table import Table

from axlewright.cli.lines import listed, output, put, put_table, table
from axlewright.sheets import wording
from axlewright.sheets.plain_text import clean
from axlewright.straightness.report import Figure, LimitCheck, ShapeReport, StraightnessReport, Verdict

UNTOLD = "cannot be told"

LONGEST_NAME = 17
"""Letters of a set's name that a column has room for."""

SIGNS = (
    "Camber: minus leans the top in. Toe: plus is toe-in. Twist: plus has the top further rearward on the left. "
    "Bow: plus is the middle up, or forward. Give or take (±): nine cases in ten."
)


def show_straightness(report: StraightnessReport) -> None:
    """Print the shape before and after, the verdict, what is odd, and what to read next."""
    console = output()
    console.print()
    put(console, " · ".join(filter(None, (report.job_name, report.job_reference))), style="bold")
    console.print()
    put_table(console, _shapes(report))
    console.print()
    put(console, SIGNS)
    console.print()
    show_verdict(console, report.verdict, report.inch)
    for shape in filter(None, (report.before, report.after)):
        _doubts(console, shape)
    _next(console, report.latest)
    listed(console, "Mind", report.cautions)
    listed(console, "What these figures leave out", report.left_out)


def show_verdict(console: Console, verdict: Verdict, inch: bool) -> None:
    """Print the verdict, limit by limit."""
    put(console, verdict.words, style="bold")
    put(console, f"Judged by: {verdict.tolerance}")
    console.print()
    made = table("limit", "wanted", "is", "band", "answer", folds=4, right=(1, 2))
    for check in verdict.checks:
        made.add_row(
            check.name, _wanted(check, inch), *_with_band(check.figure, check.unit, inch), check.answer
        )
    put_table(console, made)
    if verdict.tyre is not None and verdict.tyre_diameter is not None:
        left, right, both = (_toe_at_tyre(figure) for figure in verdict.tyre)
        console.print()
        at = wording.length(verdict.tyre_diameter, inch)
        put(console, f"Toe at the tyre ({at}): left {left}, right {right}, both together {both}.")


def value(figure: Figure, unit: str, inch: bool) -> str:
    """A figure as it stands in a table."""
    return _in_unit(figure.value, unit, inch) if figure.told else UNTOLD


def _with_band(figure: Figure, unit: str, inch: bool) -> tuple[str, str]:
    if not figure.told:
        return UNTOLD, ""
    return value(figure, unit, inch), band(figure, unit, inch)


def band(figure: Figure, unit: str, inch: bool) -> str:
    """The band of a figure: "−0.24 to −0.14°"."""
    return wording.band(_in_unit(figure.low, unit, inch), _in_unit(figure.high, unit, inch))


def _in_unit(number: float, unit: str, inch: bool) -> str:
    return wording.deflection(number, inch) if unit == "m" else wording.angle(number)


def _wanted(check: LimitCheck, inch: bool) -> str:
    limit = _in_unit(check.limit, check.unit, inch).lstrip("+")
    return f"± {limit}" if not check.wanted else f"{_in_unit(check.wanted, check.unit, inch)} ± {limit}"


def _toe_at_tyre(figure: Figure) -> str:
    if not figure.told:
        return UNTOLD
    both = (wording.deflection(figure.value, inch) for inch in (False, True))
    return f"{wording.toe_word(figure.value * 1e3)} {' or '.join(text.lstrip('+−') for text in both)}"


def _shapes(report: StraightnessReport) -> Table:
    """Every figure with half its band, set by set."""
    sets = [shape for shape in (report.before, report.after, report.change) if shape is not None]
    names = ["change" if shape is report.change else shape.name for shape in sets]
    made = table("", *(fitted_name(name) for name in names), folds=0, right=tuple(range(1, len(names) + 1)))
    for name, unit, pick in FIGURES:
        made.add_row(name, *(_give_or_take(pick(shape), unit, report.inch) for shape in sets))
    return made


def fitted_name(name: str) -> str:
    """The name of a set, short enough for the head of a column."""
    shown = clean(name)
    return shown if len(shown) <= LONGEST_NAME else shown[: LONGEST_NAME - 1] + "…"


def _give_or_take(figure: Figure, unit: str, inch: bool) -> str:
    """A figure with half the width of its band: "−0.19° ± 0.08"."""
    if not figure.told:
        return UNTOLD
    half = _in_unit((figure.high - figure.low) / 2.0, unit, inch).lstrip("+")
    return f"{value(figure, unit, inch)} ± {half.removesuffix('°').partition(' ')[0]}"


FIGURES: tuple[tuple[str, str, Callable[[ShapeReport], Figure]], ...] = (
    ("camber left", "deg", lambda shape: shape.camber.left),
    ("camber right", "deg", lambda shape: shape.camber.right),
    ("toe left", "deg", lambda shape: shape.toe.left),
    ("toe right", "deg", lambda shape: shape.toe.right),
    ("twist", "deg", lambda shape: shape.twist),
    ("bow up and down", "m", lambda shape: shape.vertical.bow),
    ("bow fore and aft", "m", lambda shape: shape.fore_aft.bow),
    ("left tube, bow up", "m", lambda shape: shape.vertical.left.bow),
    ("right tube, bow up", "m", lambda shape: shape.vertical.right.bow),
    ("left tube, kink up", "deg", lambda shape: shape.vertical.left.kink),
    ("right tube, kink up", "deg", lambda shape: shape.vertical.right.kink),
    ("left tube, bow forward", "m", lambda shape: shape.fore_aft.left.bow),
    ("right tube, bow forward", "m", lambda shape: shape.fore_aft.right.bow),
    ("left tube, kink forward", "deg", lambda shape: shape.fore_aft.left.kink),
    ("right tube, kink forward", "deg", lambda shape: shape.fore_aft.right.kink),
)
"""Figures of a shape: name, unit, and where it stands."""


def _doubts(console: Console, shape: ShapeReport) -> None:
    """Readings that look odd, and what the set does not tell."""
    lines = [
        f"Line {doubt.line}: {doubt.words}{' Left out.' if doubt.left_out else ''}"
        if doubt.line
        else doubt.words
        for doubt in shape.doubts
    ]
    listed(console, f"Look again ({shape.name})", tuple(lines))
    listed(console, f"Not told by these readings ({shape.name})", shape.untold)


def _next(console: Console, shape: ShapeReport) -> None:
    listed(console, "Read next", tuple(f"{advice.words} {advice.why}" for advice in shape.advice))
