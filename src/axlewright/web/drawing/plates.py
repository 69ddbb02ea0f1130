"""Where to measure spacers, gussets and brackets."""

from __future__ import annotations

from axlewright.web.drawing import welded_on
from axlewright.web.drawing.axle import Axle, turn, whole_axle
from axlewright.web.drawing.measures import Measures
from axlewright.web.drawing.paper import Paper, across, pointed, upright


def spacer(m: Measures, n: int) -> str:
    """A spacer on its perch, from behind and from above."""
    name = f"spacer.{n}"
    length, width, thickness = (m.value(f"{name}.{key}") for key in ("length", "width", "thickness"))
    scale = min(120.0 / length, 90.0 / width, 60.0 / thickness)
    paper = Paper(
        f"spacer-{n}", f"Spacer {n + 1} from behind and from above", 70.0 + (thickness + width) * scale + 62.0
    )
    x, top = 150.0, 34.0
    left, right = x - length / 2.0 * scale, x + length / 2.0 * scale
    foot = top + thickness * scale
    paper.words(6.0, 14.0, "from behind", "start")
    paper.box(left, top, length * scale, thickness * scale)
    _perch_below(paper, m, name, n, x, foot, scale)
    across(paper, m.sized(f"{name}.length"), (left, top), (right, top), top - 10.0, scale)
    upright(paper, m.sized(f"{name}.thickness"), (right, foot), (right, top), right + 22.0, scale)
    plan = foot + 62.0
    paper.words(6.0, plan - 8.0, "from above", "start")
    paper.box(left, plan, length * scale, width * scale)
    upright(
        paper, m.sized(f"{name}.width"), (right, plan + width * scale), (right, plan), right + 22.0, scale
    )
    return paper.svg()


def _perch_below(paper: Paper, m: Measures, name: str, n: int, x: float, foot: float, scale: float) -> None:
    """The perch it names, or the one it may sit on."""
    perch = welded_on.perch_of(Axle(paper, m, 0.0, scale), n)
    half = m.value(f"{perch}.length" if perch else "housing.perch.length") / 2.0
    paper.box(x - half * scale, foot, 2.0 * half * scale, 26.0, "context")
    paper.words(x, foot + 18.0, m.word(f"{name}.perch", "perch")[:24])


def gusset(m: Measures, n: int) -> str:
    """A gusset in its true shape, and where it sits round the tube."""
    name = f"gusset.{n}"
    left = m.word(f"{name}.end", "left") == "left"
    paper = Paper(
        f"gusset-{n}", f"Gusset {n + 1} at the {'left' if left else 'right'} end, and round the tube", 186.0
    )
    length, height = m.value(f"{name}.length"), m.value(f"{name}.height")
    scale = min(96.0 / length, 96.0 / height)
    sign = 1.0 if left else -1.0
    root = 44.0 if left else 158.0
    skin = 138.0
    tip, crest = root + sign * length * scale, skin - height * scale
    paper.line(((root, skin), (tip, skin), (root, crest)), "edge", closed=True)
    paper.line(((root, skin - 112.0), (root, skin + 18.0)), "context")
    paper.box(min(root, root - sign * 12.0), skin - 112.0, 12.0, 130.0, "context")
    paper.line(((root, skin), (root + sign * 112.0, skin)), "context")
    across(paper, m.sized(f"{name}.length"), (root, skin), (tip, skin), skin + 28.0, scale)
    beside = root - sign * 24.0
    upright(paper, m.sized(f"{name}.height"), (root, skin), (root, crest), beside, scale)
    paper.words(root + sign * 70.0, skin + 14.0, "tube")
    thickness, radius = m.value(f"{name}.thickness"), m.tube_radius(0.0 if left else m.length)
    _round_the_tube(paper, m, name, (radius, height, thickness))
    return paper.svg()


def _round_the_tube(paper: Paper, m: Measures, name: str, sizes: tuple[float, float, float]) -> None:
    """Along the axle from the driver's right end: a plate standing on the tube at its clock position."""
    radius, height, thickness = sizes
    scale = 50.0 / (radius + height)
    x, y = 272.0, 104.0
    paper.circle((x, y), radius * scale, "context")
    for hour in (12, 3, 6, 9):
        right, up = turn(float(hour))
        paper.words(x + 0.6 * radius * scale * right, y - 0.6 * radius * scale * up + 4.0, str(hour))
    clock = m.value(f"{name}.clock")
    right, up = turn(clock)
    half = thickness / 2.0 * scale
    along = [(radius * scale, half), (radius * scale, -half), ((radius + height) * scale, -half)]
    along.append(((radius + height) * scale, half))
    paper.line([(x + r * right + s * up, y - r * up + s * right) for r, s in along], "edge", closed=True)
    far = (radius + height) * scale
    pointed(
        paper,
        m.sized(f"{name}.clock"),
        (x + far * right, y - far * up),
        (x + (far + 10) * right, y - (far + 10) * up),
    )
    paper.words(x, 180.0, "from the right end")
    # The thickness is drawn once more by itself, where it can be read at every clock position.
    _thickness(paper, m, name, scale)


def _thickness(paper: Paper, m: Measures, name: str, scale: float) -> None:
    left, plate = 200.0, m.value(f"{name}.thickness") * scale
    paper.box(left, 14.0, plate, 26.0)
    across(paper, m.sized(f"{name}.thickness"), (left, 40.0), (left + plate, 40.0), 50.0, scale)


def bracket(m: Measures, n: int) -> str:
    """A bracket: where it stands along the axle, then its size and its place round the tube."""
    name = f"bracket.{n}"
    place = Paper(f"bracket-{n}-place", f"Bracket {n + 1}: its place on the axle, from behind", 118.0)
    at = m.value(f"{name}.at")
    axle = whole_axle(place, m, 45.0, at)
    axle.housing("context")
    welded_on.brackets(axle, "edge", only=n)
    axle.along(f"{name}.at", 0.0, at, (0.0, 0.0), 106.0)
    size = Paper(f"bracket-{n}-size", f"Bracket {n + 1}: its size, and its place round the tube", 186.0)
    length, height = m.value(f"{name}.length"), m.value(f"{name}.height")
    scale = min(110.0 / length, 100.0 / height)
    left, foot, right = 24.0, 138.0, 24.0 + length * scale
    size.box(left, foot - height * scale, length * scale, height * scale)
    size.line(((left - 14.0, foot), (right + 14.0, foot)), "context")
    across(size, m.sized(f"{name}.length"), (left, foot), (right, foot), foot + 28.0, scale)
    upright(
        size, m.sized(f"{name}.height"), (right, foot), (right, foot - height * scale), right + 22.0, scale
    )
    along = m.word(f"{name}.lies", "along") == "along"
    plate = m.value(f"{name}.thickness" if along else f"{name}.length")
    _round_the_tube(size, m, name, (m.tube_radius(at), height, plate))
    return place.svg() + size.svg()
