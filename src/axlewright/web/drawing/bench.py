"""Where to measure what belongs to the bench: beads and tacks, stands, fixture, straightness."""

from __future__ import annotations

import math
import re

from axlewright.web.drawing import welded_on
from axlewright.web.drawing.axle import Axle, above_line, whole_axle
from axlewright.web.drawing.measures import Measures
from axlewright.web.drawing.paper import WIDTH, Paper, Sized, across, pointed, upright

_PLAIN = re.compile(r"[0-9]{1,3}(\.[0-9]{1,9})?")


def welder(m: Measures) -> str:
    """A seam with its tacks and a bead, and the wire."""
    paper = Paper("welder", "A seam with tacks and a bead, and the wire cut across", 190.0)
    inch = m.word("units") == "inch"
    step = 0.0508 if inch else 0.05
    bead = m.value("welder.bead_length", step)
    spacing, tack = m.value("welder.tack_spacing", step), m.value("welder.tack_length")
    scale = 250.0 / max(bead, 2.0 * spacing + tack)
    left, seam = 30.0, 70.0
    paper.line(((12.0, seam), (WIDTH - 12.0, seam)))
    for k in range(3):
        begin = left + k * spacing * scale
        paper.line(((begin, seam), (begin + tack * scale, seam)), "weld")
    start = (left, seam), (left + spacing * scale, seam)
    across(paper, m.sized("welder.tack_spacing"), *start, seam + 24.0, scale)
    across(
        paper, m.sized("welder.tack_length"), (left, seam), (left + tack * scale, seam), seam - 14.0, scale
    )
    bead_at = 146.0
    paper.line(((12.0, bead_at), (WIDTH - 12.0, bead_at)))
    paper.line(((left, bead_at), (left + bead * scale, bead_at)), "weld")
    across(
        paper,
        m.sized("welder.bead_length"),
        (left, bead_at),
        (left + bead * scale, bead_at),
        bead_at + 26.0,
        scale,
    )
    pointed(
        paper,
        m.sized("welder.travel_speed"),
        (left + 0.5 * bead * scale, bead_at),
        (left + 0.5 * bead * scale, 128.0),
    )
    _wire(paper, m)
    return paper.svg()


def _wire(paper: Paper, m: Measures) -> None:
    radius = m.value("welder.wire_diameter") / 2.0
    scale = 12.0 / max(radius, 1e-4)
    x, y = 300.0, 22.0
    paper.circle((x, y), radius * scale, "hatched")
    ends = (x - radius * scale, y), (x + radius * scale, y)
    across(paper, m.sized("welder.wire_diameter"), *ends, y + 26.0, scale)


def supports(m: Measures) -> str:
    """Where the stands are."""
    usual = {"left": 0.2 * m.length, "right": 0.8 * m.length}
    at = {side: m.value(f"supports.{side}", usual[side]) for side in usual}
    reach = (WIDTH - 28.0) / max(m.length, *at.values(), 0.1)
    line = 14.0 + above_line(m) * reach
    foot = line + m.value("housing.centre.height") / 2.0 * reach + 20.0
    paper = Paper("supports", "The axle on its stands, from behind", foot + 62.0)
    axle = whole_axle(paper, m, line, max(at.values()))
    welded_on.everything(axle)
    axle.housing("context")
    for row, (side, place) in enumerate(at.items()):
        x, y = axle.point(place, -m.tube_radius(place))
        paper.line(((x, y), (x - 9.0, foot), (x + 9.0, foot)), "edge", closed=True)
        axle.along(f"supports.{side}", 0.0, place, (0.0, -m.tube_radius(place)), foot + 22.0 + 24.0 * row)
    return paper.svg()


def fixture(m: Measures) -> str:
    """The axle in its fixture, with a step of the shims."""
    count = m.count("fixture.support")
    paper = Paper("fixture", "The axle in its fixture, from behind", 130.0)
    far = max((m.value(f"fixture.support.{n}.at") for n in range(count)), default=0.0)
    axle = whole_axle(paper, m, 50.0, far)
    axle.housing("context")
    for n in range(count):
        _support(axle, m.value(f"fixture.support.{n}.at"), 100.0)
    step = m.value("fixture.shim_step")
    scale = 14.0 / step
    paper.box(200.0, 106.0, 60.0, 14.0, "hatched")
    upright(paper, m.sized("fixture.shim_step"), (260.0, 120.0), (260.0, 106.0), 278.0, scale)
    paper.words(194.0, 117.0, "thinnest shim", "end")
    return paper.svg()


def _support(axle: Axle, at: float, foot: float) -> None:
    """A block below the tube, and a clamp over it."""
    radius = axle.measures.tube_radius(at)
    x, low = axle.point(at, -radius)
    high = axle.point(at, radius)[1]
    axle.paper.box(x - 7.0, low, 14.0, max(foot - low, 4.0))
    axle.paper.line(
        ((x - 11.0, foot - 4.0), (x - 11.0, high - 4.0), (x + 11.0, high - 4.0), (x + 11.0, foot - 4.0))
    )


def fixture_support(m: Measures, n: int) -> str:
    """One support of the fixture: its place, then its shims along the axle."""
    name = f"fixture.support.{n}"
    place = Paper(f"support-{n}-place", f"Support {n + 1}: its place, from behind", 122.0)
    at = m.value(f"{name}.at")
    axle = whole_axle(place, m, 50.0, at)
    axle.housing("context")
    _support(axle, at, 92.0)
    axle.along(f"{name}.at", 0.0, at, (0.0, -m.tube_radius(at)), 112.0)
    shims = Paper(f"support-{n}-shims", f"Support {n + 1}: its shims, from the right end", 136.0)
    _shims(shims, m, name, m.tube_radius(at))
    return place.svg() + shims.svg()


def _shims(paper: Paper, m: Measures, name: str, radius: float) -> None:
    """Tube, block and shims along the axle; the front is to the right."""
    under, behind = m.value(f"{name}.shim_under"), m.value(f"{name}.shim_behind")
    scale = 36.0 / radius
    x, y = 180.0, 62.0
    paper.circle((x, y), 36.0, "context")
    foot, back = y + 36.0, x - 36.0
    paper.box(x - 20.0, foot, 40.0, under * scale, "hatched")
    paper.box(x - 30.0, foot + under * scale, 60.0, 20.0)
    upright(
        paper,
        m.sized(f"{name}.shim_under"),
        (x + 20.0, foot + under * scale),
        (x + 20.0, foot),
        x + 60.0,
        scale,
    )
    paper.box(back - behind * scale, y - 20.0, behind * scale, 40.0, "hatched")
    paper.box(back - behind * scale - 20.0, y - 30.0, 20.0, 60.0)
    ends = (back - behind * scale, y - 20.0), (back, y - 20.0)
    across(paper, m.sized(f"{name}.shim_behind"), *ends, y - 44.0, scale)
    paper.words(x + 42.0, y + 4.0, "front", "start")


def straightness(m: Measures) -> str:
    """Bow, camber and toe, far larger than they are, and the tyre."""
    behind = Paper("straightness-behind", "Bow and camber from behind, drawn far larger than they are", 108.0)
    behind.words(6.0, 12.0, "from behind, not to scale", "start")
    left, right, line = 50.0, 220.0, 62.0
    bent = [(left + (right - left) * k / 20.0, line - 22.0 * math.sin(math.pi * k / 20.0)) for k in range(21)]
    behind.line(bent)
    behind.line(((left, line), (right, line)), "axis")
    middle = (left + right) / 2.0
    upright(behind, m.sized("straightness.bow"), (middle, line), (middle, line - 22.0), middle, None)
    _leaning(behind, m, "camber", (left, right), line)
    above = Paper("straightness-above", "Toe from above, drawn far larger than it is", 108.0)
    above.words(6.0, 12.0, "from above, not to scale", "start")
    above.line(((left, line), (right, line)), "axis")
    _leaning(above, m, "toe", (left, right), line)
    tyre = Paper("straightness-tyre", "The tyre from the side", 84.0)
    scale, x, y = 60.0 / m.value("straightness.tyre_diameter"), 136.0, 42.0
    tyre.circle((x, y), 30.0)
    tyre.circle((x, y), 17.0, "context")
    upright(tyre, m.sized("straightness.tyre_diameter"), (x, y + 30.0), (x, y - 30.0), x + 56.0, scale)
    return behind.svg() + above.svg() + tyre.svg()


def _leaning(paper: Paper, m: Measures, what: str, ends: tuple[float, float], line: float) -> None:
    """Both flanges leaning as a positive angle has them: tops outward for camber, fronts inward for toe."""
    lean = 7.0 if what == "camber" else -7.0
    for x, sign in zip(ends, (-1.0, 1.0), strict=True):
        paper.line(((x + sign * lean, line - 32.0), (x - sign * lean, line + 32.0)))
        paper.line(((x, line - 38.0), (x, line + 38.0)), "axis")
    wanted, limit = m.sized(f"straightness.{what}_wanted"), m.sized(f"straightness.{what}")
    band = Sized(limit.name, limit.label, f"\u00b1{limit.text}", limit.assumed, limit.left_out)
    pointed(paper, band, (ends[1] + lean, line - 32.0), (ends[1] + 24.0, line - 32.0))
    pointed(paper, wanted, (ends[1] - lean / 2.0, line + 16.0), (ends[1] + 24.0, line + 16.0))


def turns(m: Measures) -> str:
    """How the housing lies at each turn, along the axle from the driver's right end: the front is to the right at 0."""
    degrees = m.word("bench.turns", "0, 90, 180, 270").replace(",", " ").replace(";", " ").split()[:12]
    paper = Paper(
        "turns", "How the housing lies at each turn, from the right end", 92.0 * math.ceil(len(degrees) / 4.0)
    )
    for k, text in enumerate(degrees):
        x, y = 45.0 + 90.0 * (k % 4), 40.0 + 92.0 * (k // 4)
        if not _PLAIN.fullmatch(text):
            continue
        angle = math.radians(float(text) % 360.0)
        paper.circle((x, y), 26.0)
        paper.circle((x, y), 11.0, "context")
        # The mark is the front of the housing; it goes up as the front side is turned up.
        front = (x + 26.0 * math.cos(angle), y - 26.0 * math.sin(angle))
        paper.line(((x, y), front), "weld")
        paper.words(x, y + 44.0, f"{text[:8]}\u00b0")
    paper.told.append("the thick line marks the front side")
    return paper.svg()
