"""Where to measure the bare housing."""

from __future__ import annotations

from axlewright.web.drawing import welded_on
from axlewright.web.drawing.axle import Axle, above_line, below_line, whole_axle
from axlewright.web.drawing.measures import Measures
from axlewright.web.drawing.paper import WIDTH, Paper, across, upright


def housing(m: Measures) -> str:
    """The whole axle from behind, with its length."""
    reach = (WIDTH - 28.0) / max(m.length, 0.1)
    line = 18.0 + above_line(m) * reach
    foot = line + below_line(m) * reach
    paper = Paper("housing", "The whole axle from behind, as the driver sits", foot + 34.0)
    axle = whole_axle(paper, m, line)
    welded_on.everything(axle)
    axle.housing()
    radius = m.value("housing.knuckle_flange.diameter") / 2.0
    axle.along("housing.length", 0.0, m.length, (-radius, -radius), foot + 22.0)
    paper.words(14.0, 11.0, "left", "start")
    paper.words(WIDTH - 14.0, 11.0, "right", "end")
    return paper.svg()


def tubes(m: Measures) -> str:
    """Both tubes cut across."""
    paper = Paper("tubes", "Both tubes, cut across", 168.0)
    sides = ("left", "right")
    widest = max(m.value(f"housing.{side}_tube.outside_diameter") for side in sides)
    scale = 92.0 / widest
    for side, middle in zip(sides, (92.0, 268.0), strict=True):
        name = f"housing.{side}_tube"
        outside = m.value(f"{name}.outside_diameter") / 2.0
        inside = max(outside - m.value(f"{name}.wall"), 0.0)
        _ring(paper, (middle, 78.0), outside * scale, inside * scale)
        paper.words(middle, 14.0, f"{side} tube")
        low = (middle - outside * scale, 78.0), (middle + outside * scale, 78.0)
        across(paper, m.sized(f"{name}.outside_diameter"), *low, 150.0, scale)
        wall = (middle + (outside - m.value(f"{name}.wall")) * scale, 78.0), (middle + outside * scale, 78.0)
        across(paper, m.sized(f"{name}.wall"), *wall, 78.0, scale)
    return paper.svg()


def _ring(paper: Paper, middle: tuple[float, float], outside: float, inside: float) -> None:
    """A tube cut across: hatched between two circles, with its axes."""
    x, y = middle
    paper.circle(middle, outside, "hatched")
    paper.circle(middle, inside, "open")
    paper.circle(middle, outside)
    paper.circle(middle, inside)
    paper.line(((x - outside - 6.0, y), (x + outside + 6.0, y)), "axis")
    paper.line(((x, y - outside - 6.0), (x, y + outside + 6.0)), "axis")


def centre(m: Measures) -> str:
    """The centre: its place on the axle, then itself from behind and from above."""
    width, height, depth = (m.value(f"housing.centre.{key}") for key in ("width", "height", "depth"))
    scale = min(190.0 / (1.6 * width), 130.0 / height, 130.0 / depth)
    behind = Paper("centre-behind", "The centre from behind", height * scale + 54.0)
    axle = Axle(behind, m, height * scale / 2.0 + 14.0, scale, WIDTH / 2.0 - 10.0 - m.centre_at * scale)
    _part_of_housing(axle)
    _centre_from_behind(axle)
    above = Paper("centre-above", "The centre from above", depth * scale + 40.0)
    axle = Axle(
        above, m, depth * scale / 2.0 + 26.0, scale, WIDTH / 2.0 - 10.0 - m.centre_at * scale, "from above"
    )
    _part_of_housing(axle)
    _centre_from_above(axle)
    for paper, words in ((behind, "from behind"), (above, "from above")):
        paper.words(6.0, 12.0, words, "start")
    return _offset(m) + behind.svg() + above.svg()


def _offset(m: Measures) -> str:
    """The axle, small, with the way from its middle to the centre's."""
    paper = Paper("centre-offset", "The centre's place on the axle, from behind", 96.0)
    scale = min((WIDTH - 28.0) / max(m.length, 0.1), 60.0 / max(m.value("housing.centre.height"), 0.05))
    axle = Axle(paper, m, 38.0, scale, (WIDTH - m.length * scale) / 2.0)
    axle.housing("context")
    middle = axle.x(m.length / 2.0)
    paper.line(((middle, 4.0), (middle, 74.0)), "axis")
    axle.along("housing.centre.offset", m.length / 2.0, m.centre_at, (0.0, 0.0), 84.0)
    return paper.svg()


def _part_of_housing(axle: Axle) -> None:
    """The centre with a stretch of either tube, broken off."""
    m = axle.measures
    reach = 0.8 * m.value("housing.centre.width")
    at = [m.centre_at + reach * n / 40.0 for n in range(-40, 41)]
    halves = [axle.skin(one) for one in at]
    axle.paper.line([axle.point(*pair) for pair in zip(at, halves, strict=True)])
    axle.paper.line([axle.point(one, -half) for one, half in zip(at, halves, strict=True)])
    ends = axle.x(at[0]) - 8.0, axle.x(at[-1]) + 8.0
    axle.paper.line(((ends[0], axle.line), (ends[1], axle.line)), "axis")


def _centre_from_behind(axle: Axle) -> None:
    m, paper, half = axle.measures, axle.paper, axle.measures.value("housing.centre.width") / 2.0
    height = m.value("housing.centre.height") / 2.0
    top, foot = axle.point(m.centre_at, height), axle.point(m.centre_at, -height)
    upright(paper, m.sized("housing.centre.height"), foot, top, WIDTH - 30.0, axle.scale)
    axle.along("housing.centre.width", m.centre_at - half, m.centre_at + half, (0.0, 0.0), foot[1] + 22.0)
    radius = m.value("housing.centre.opening_diameter") / 2.0
    at_rear = m.word("housing.centre.opening_side", "rear") == "rear"
    paper.circle(axle.point(m.centre_at, 0.0), radius * axle.scale, "edge" if at_rear else "hidden")
    ends = axle.point(m.centre_at - radius, 0.0), axle.point(m.centre_at + radius, 0.0)
    across(paper, m.sized("housing.centre.opening_diameter"), *ends, axle.line, axle.scale)


def _centre_from_above(axle: Axle) -> None:
    m, paper = axle.measures, axle.paper
    depth, wall = m.value("housing.centre.depth") / 2.0, m.value("housing.centre.wall")
    front, rear = axle.point(m.centre_at, depth), axle.point(m.centre_at, -depth)
    upright(paper, m.sized("housing.centre.depth"), rear, front, WIDTH - 30.0, axle.scale)
    inner = axle.point(m.centre_at - 0.2 * m.value("housing.centre.width"), depth - wall)
    reach = 0.25 * m.value("housing.centre.width")
    paper.line(
        (axle.point(m.centre_at - reach, depth - wall), axle.point(m.centre_at + reach, depth - wall)),
        "hidden",
    )
    outer = (inner[0], inner[1] - wall * axle.scale)
    upright(paper, m.sized("housing.centre.wall"), inner, outer, axle.x(m.centre_at) - 5.0, axle.scale)


def flanges(m: Measures) -> str:
    """The left knuckle flange from behind; the right one is alike."""
    paper = Paper("flanges", "The left knuckle flange from behind", 176.0)
    diameter, thickness = (
        m.value("housing.knuckle_flange.diameter"),
        m.value("housing.knuckle_flange.thickness"),
    )
    scale = 120.0 / max(diameter, m.value("housing.left_tube.outside_diameter"))
    axle = Axle(paper, m, 78.0, scale, 110.0)
    tube = m.value("housing.left_tube.outside_diameter") / 2.0
    far = thickness + 110.0 / scale
    for side in (tube, -tube):
        paper.line((axle.point(thickness, side), axle.point(far, side)), "context")
    axle.box(0.0, thickness, -diameter / 2.0, diameter / 2.0, "edge")
    paper.line(((90.0, 78.0), (axle.x(far) + 8.0, 78.0)), "axis")
    low, high = axle.point(0.0, -diameter / 2.0), axle.point(0.0, diameter / 2.0)
    upright(paper, m.sized("housing.knuckle_flange.diameter"), low, high, 84.0, scale)
    axle.along("housing.knuckle_flange.thickness", 0.0, thickness, (-diameter / 2.0, -diameter / 2.0), 162.0)
    paper.words(axle.x(far), 78.0 - tube * scale - 6.0, "tube", "end")
    return paper.svg()


def perch(m: Measures, n: int) -> str:
    """A spring perch: where it is, and its size from behind and along the axle."""
    name = f"housing.perch.{n}"
    place = Paper(f"perch-{n}-place", f"Spring perch {n + 1}: its place, from behind", 112.0)
    at = m.value(f"{name}.at")
    axle = _small_axle(place, m, at)
    welded_on.perches(axle, "edge", only=n)
    axle.along(f"{name}.at", 0.0, at, (0.0, m.value(f"{name}.height")), 100.0)
    length, width, height = (m.value(f"{name}.{key}") for key in ("length", "width", "height"))
    radius = m.tube_radius(at)
    scale = min(100.0 / length, 90.0 / max(width, 2.0 * radius), 90.0 / (height + radius))
    size = Paper(f"perch-{n}-size", f"Spring perch {n + 1} from behind and along the axle", 146.0)
    _perch_from_behind(size, m, name, scale, radius)
    _perch_along(size, m, name, scale, radius)
    return place.svg() + size.svg()


_PERCH_LINE = 96.0


def _perch_from_behind(paper: Paper, m: Measures, name: str, scale: float, radius: float) -> None:
    length, height = m.value(f"{name}.length"), m.value(f"{name}.height")
    detail = Axle(paper, m, _PERCH_LINE, scale, 90.0)
    for side in (radius, -radius):
        paper.line((detail.point(-0.7 * length, side), detail.point(0.7 * length, side)), "context")
    detail.box(-length / 2.0, length / 2.0, min(radius, height), height, "edge")
    paper.line((detail.point(-0.8 * length, 0.0), detail.point(0.8 * length, 0.0)), "axis")
    detail.along(
        f"{name}.length", -length / 2.0, length / 2.0, (height, height), _PERCH_LINE - height * scale - 14.0
    )
    low, high = detail.point(length / 2.0, 0.0), detail.point(length / 2.0, height)
    upright(paper, m.sized(f"{name}.height"), low, high, detail.x(0.8 * length), scale)


def _perch_along(paper: Paper, m: Measures, name: str, scale: float, radius: float) -> None:
    width, height = m.value(f"{name}.width"), m.value(f"{name}.height")
    detail = Axle(paper, m, _PERCH_LINE, scale, 284.0)
    paper.circle(detail.point(0.0, 0.0), radius * scale, "context")
    detail.box(-width / 2.0, width / 2.0, 0.0, height, "edge")
    detail.along(
        f"{name}.width", -width / 2.0, width / 2.0, (height, height), _PERCH_LINE - height * scale - 14.0
    )


def _small_axle(paper: Paper, m: Measures, farthest: float) -> Axle:
    """The axle at the top of a picture, low enough for a detail below it."""
    axle = whole_axle(paper, m, 45.0, farthest)
    axle.housing("context")
    return axle


def seal(m: Measures, n: int) -> str:
    """Where an oil seal sits."""
    name = f"housing.seal.{n}"
    paper = Paper(f"seal-{n}", f"Oil seal {n + 1}: its place, from behind", 116.0)
    at = m.value(f"{name}.at")
    axle = _small_axle(paper, m, at)
    radius = m.tube_radius(at)
    axle.box(at - 0.004, at + 0.004, -radius, radius, "hatched")
    axle.along(f"{name}.at", 0.0, at, (0.0, -radius), 104.0)
    return paper.svg()
