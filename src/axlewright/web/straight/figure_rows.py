"""The figures of a check as lines of a table: before, after and change, with band, limit and answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from axlewright.web.straight import ink, words

Tree = Mapping[str, Any]

SETS = ("before", "after", "change")
_ENDS = ("left", "right")
_ZERO_DEG = 0.005
_ZERO_M = 0.5e-5
_STRIP = (150.0, 30.0)


@dataclass(frozen=True)
class Shown:
    """A figure of one set: what is read, its band, and the id by which it is asked where it comes from."""

    text: str
    band: str
    whence: str
    told: bool


@dataclass(frozen=True)
class FigureRow:
    """A line of the table.

    Args:
        id: of the figure, e.g. "camber-left".
        name: in words.
        means: what its sign means now, in words; "" where nothing is to be said.
        shown: the figure by "before", "after" and "change", None where there is none.
        limit: what it may be; "" where it has no limit.
        answer: inside, outside or cannot be told; "" where it has no limit.
        strip: band and limits drawn; "" where it has no limit.
    """

    id: str
    name: str
    means: str
    shown: Mapping[str, Shown | None]
    limit: str = ""
    answer: str = ""
    strip: str = ""


@dataclass(frozen=True)
class Part:
    """Lines that belong together: those of a plane, or of both flanges against each other."""

    title: str
    rows: tuple[FigureRow, ...]


def figure_parts(report: Tree) -> tuple[Part, ...]:
    """All figures of a check, as straightness.json has it."""
    behind = (*_angles(report, "camber"), *_plane(report, "vertical"))
    above = (*_angles(report, "toe"), *_plane(report, "fore_aft"))
    turned = _row(report, "twist", "twist", "deg", ("twist",), None, _twist_means)
    return (
        Part("From behind", behind),
        Part("From above", above),
        Part("One flange against the other", (turned,)),
    )


def _angles(report: Tree, kind: str) -> Iterator[FigureRow]:
    means = _camber_means if kind == "camber" else _toe_means
    for end in _ENDS:
        name = f"{kind} {end}"
        yield _row(report, f"{kind}-{end}", name, "deg", (kind, end), _check(report, name), means)


def _plane(report: Tree, plane: str) -> Iterator[FigureRow]:
    """Bow of the axis, a limit on it by the standard, then bow and kink of each tube."""
    way, mark = ("up", "vertical") if plane == "vertical" else ("forward", "fore-aft")
    both = "up and down" if plane == "vertical" else "fore and aft"
    latest = report["after"] or report["before"]

    def bow_means(figure: Tree) -> str:
        return _bow_means(figure, latest[plane]["bow_at"], plane, report["inch"])

    limit = _check(report, f"bow {way}")
    own = limit is not None and limit["figure"]["value"] == latest[plane]["bow"]["value"]
    yield _row(report, f"bow-{mark}", f"bow, {both}", "m", (plane, "bow"), limit if own else None, bow_means)
    if limit is not None and not own:
        yield _zone_row(report, limit, f"straightness, {both}", f"straightness-{mark}")
    if (zone := _check(report, f"straightness {way}")) is not None:
        yield _zone_row(report, zone, f"straightness, {both}", f"straightness-{mark}")
    for end in _ENDS:
        path = (plane, end, "bow")
        yield _row(report, f"{end}-tube-bow-{mark}", f"{end} tube: bow", "m", path, None, _none)
    for end in _ENDS:
        path = (plane, end, "kink")
        yield _row(
            report, f"{end}-tube-kink-{mark}", f"{end} tube: kink at the centre", "deg", path, None, _none
        )


def _check(report: Tree, name: str) -> Tree | None:
    return next((check for check in report["verdict"]["checks"] if check["name"] == name), None)


def _row(
    report: Tree, id: str, name: str, unit: str, path: tuple[str, ...], check: Tree | None, means: Any
) -> FigureRow:
    inch = report["inch"]
    figures = {which: _at(report[which], path) for which in SETS}
    latest = figures["after"] or figures["before"]
    shown = {
        which: None if figure is None else _shown(figure, unit, inch, f"measured-{id}-{which}")
        for which, figure in figures.items()
    }
    said = means(latest) if latest is not None and latest["told"] else ""
    if check is None:
        return FigureRow(id, name, said, shown)
    limit = words.allowed(check["wanted"], check["limit"], unit, inch)
    strip = limit_strip(check, figures["before"] if figures["after"] else None, inch)
    return FigureRow(id, name, said, shown, limit, check["answer"], strip)


def _zone_row(report: Tree, check: Tree, name: str, id: str) -> FigureRow:
    """The width of the zone the axis lies in, as the standard means straightness; told of the latest set."""
    inch, latest = report["inch"], "after" if report["after"] else "before"
    shown: dict[str, Shown | None] = dict.fromkeys(SETS)
    shown[latest] = _shown(check["figure"], "m", inch, f"measured-{id}")
    limit = words.small(check["limit"], inch)
    return FigureRow(id, name, "", shown, limit, check["answer"], limit_strip(check, None, inch))


def _at(shape: Tree | None, path: tuple[str, ...]) -> Tree | None:
    if shape is None:
        return None
    found: Any = shape
    for key in path:
        found = found[key]
    return dict(found)


def _shown(figure: Tree, unit: str, inch: bool, whence: str) -> Shown:
    return Shown(words.value(figure, unit, inch), words.band(figure, unit, inch), whence, figure["told"])


def _none(figure: Tree) -> str:
    return ""


def _camber_means(figure: Tree) -> str:
    return _by_sign(figure["value"], _ZERO_DEG, "top leans out", "top leans in", "upright")


def _toe_means(figure: Tree) -> str:
    return _by_sign(figure["value"], _ZERO_DEG, "toe-in", "toe-out", "straight ahead")


def _twist_means(figure: Tree) -> str:
    above, below = "left top farther rearward", "left top farther forward"
    return _by_sign(figure["value"], _ZERO_DEG, above, below, "both alike")


def _bow_means(figure: Tree, at: float, plane: str, inch: bool) -> str:
    up, down = ("up", "down") if plane == "vertical" else ("forward", "back")
    way = _by_sign(figure["value"], _ZERO_M, up, down, "straight")
    return way if way == "straight" else f"{way} at {words.length(at, inch)}"


def _by_sign(value: float, zero: float, above: str, below: str, nought: str) -> str:
    return nought if abs(value) < zero else above if value > 0.0 else below


def limit_strip(check: Tree, before: Tree | None, inch: bool) -> str:
    """A figure held against its limit: limits as upright lines, the band as a bar, the figure as a mark.

    Args:
        check: a limit of straightness.json with its figure.
        before: the same figure before the work, drawn thin above, if any.
        inch: whether the shop works in inches.
    """
    figure, (width, height) = check["figure"], _STRIP
    low, high = check["wanted"] - check["limit"], check["wanted"] + check["limit"]
    told = [one for one in (figure, before) if one is not None and one["told"]]
    reach = max(
        [1.25 * check["limit"], *(abs(one[e] - check["wanted"]) for one in told for e in ("low", "high"))]
    )

    def x(value: float) -> float:
        return width / 2.0 + (value - check["wanted"]) / reach * (width / 2.0 - 6.0)

    y = height / 2.0
    parts = [
        ink.box("room", x(low), 3.0, x(high) - x(low), height - 6.0),
        ink.line("axle", (2.0, y), (width - 2.0, y)),
        *(ink.line("limit", (x(edge), 2.0), (x(edge), height - 2.0)) for edge in (low, high)),
    ]
    if before is not None and before["told"]:
        parts.append(ink.line("earlier", (x(before["low"]), 7.0), (x(before["high"]), 7.0)))
        parts.append(ink.ring("earlier", (x(before["value"]), 7.0), 2.4))
    if figure["told"]:
        parts.append(ink.box("latest", x(figure["low"]), y - 3.5, x(figure["high"]) - x(figure["low"]), 7.0))
        parts.append(ink.line("value", (x(figure["value"]), y - 8.0), (x(figure["value"]), y + 8.0)))
    said = f"{check['name']}: {words.value(figure, check['unit'], inch)}, {check['answer']}"
    return ink.picture("strip", width, height, said, parts)
