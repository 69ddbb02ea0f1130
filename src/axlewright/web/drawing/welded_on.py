"""What is welded on, as it shows from behind on a drawing of the whole axle."""

from __future__ import annotations

from axlewright.web.drawing.axle import Axle, turn
from axlewright.web.drawing.paper import Line, Point


def perches(axle: Axle, kind: Line = "context", only: int | None = None) -> None:
    """Spring perches, or one of them."""
    m = axle.measures
    for n in range(m.count("housing.perch")) if only is None else (only,):
        name = f"housing.perch.{n}"
        at, half = m.value(f"{name}.at"), m.value(f"{name}.length") / 2.0
        axle.box(
            at - half,
            at + half,
            min(m.tube_radius(at), m.value(f"{name}.height")),
            m.value(f"{name}.height"),
            kind,
        )


def spacers(axle: Axle, kind: Line = "context") -> None:
    """Spacers on their perches."""
    m = axle.measures
    for n in range(m.count("spacer")):
        perch = perch_of(axle, n)
        if perch is not None:
            at, half = m.value(f"{perch}.at"), m.value(f"spacer.{n}.length") / 2.0
            foot = m.value(f"{perch}.height")
            axle.box(at - half, at + half, foot, foot + m.value(f"spacer.{n}.thickness"), kind)


def perch_of(axle: Axle, spacer: int) -> str | None:
    """The perch a spacer names, None where it names none."""
    m = axle.measures
    wanted = m.word(f"spacer.{spacer}.perch").strip()
    names = (f"housing.perch.{n}" for n in range(m.count("housing.perch")))
    return next((name for name in names if m.word(f"{name}.name").strip() == wanted), None)


def top_edge(axle: Axle, n: int) -> list[Point]:
    """Corners of a truss's top on paper, from left to right; a usual edge where there are none yet."""
    m, name = axle.measures, f"truss.{n}"
    begin, end = m.value(f"{name}.from"), m.value(f"{name}.to")
    count = m.count(f"{name}.top")
    if count < 2:
        high = m.value("housing.centre.height") / 2.0 + 0.04
        corners = ((0.0, 0.06), (0.2, high), (0.8, high), (1.0, 0.06))
        return [axle.point(begin + share * (end - begin), height) for share, height in corners]
    points = []
    for k in range(count):
        usual = begin + (end - begin) * k / (count - 1)
        points.append(axle.point(m.value(f"{name}.top.{k}.0", usual), m.value(f"{name}.top.{k}.1")))
    return points


def truss_seam(axle: Axle, n: int, begin: float, end: float) -> list[Point]:
    """A stretch of a truss's lower edge on the skin of the housing, on paper [m]."""
    steps = 24
    at = [begin + (end - begin) * k / steps for k in range(steps + 1)]
    return [axle.point(one, lower_edge(axle, n, one)) for one in at]


def lower_edge(axle: Axle, n: int, at: float) -> float:
    """Height of a truss's lower edge, on the skin or bridging the centre [m]."""
    m, name = axle.measures, f"truss.{n}"
    if not m.word(f"{name}.clear_of_centre").strip():
        return axle.skin(at)
    inside = abs(at - m.centre_at) <= m.value("housing.centre.width") / 2.0
    bridge = m.value("housing.centre.height") / 2.0 + m.value(f"{name}.clear_of_centre")
    return bridge if inside else axle.skin(at)


def trusses(axle: Axle, kind: Line = "context", only: int | None = None) -> None:
    """Trusses, or one of them."""
    m = axle.measures
    for n in range(m.count("truss")) if only is None else (only,):
        begin, end = m.value(f"truss.{n}.from"), m.value(f"truss.{n}.to")
        foot = truss_seam(axle, n, begin, end)
        axle.paper.line((*top_edge(axle, n), *reversed(foot)), kind, closed=True)


def gussets(axle: Axle, kind: Line = "context") -> None:
    """Gussets, by how far they stand up or down at their clock position."""
    m = axle.measures
    for n in range(m.count("gusset")):
        left = m.word(f"gusset.{n}.end", "left") == "left"
        face = m.value("housing.knuckle_flange.thickness")
        root = face if left else m.length - face
        along = m.value(f"gusset.{n}.length") * (1.0 if left else -1.0)
        up, radius = turn(m.value(f"gusset.{n}.clock"))[1], m.tube_radius(root)
        corners = ((root, radius), (root + along, radius), (root, radius + m.value(f"gusset.{n}.height")))
        axle.paper.line([axle.point(at, reach * up) for at, reach in corners], kind, closed=True)


def brackets(axle: Axle, kind: Line = "context", only: int | None = None) -> None:
    """Brackets, by how far they stand up or down at their clock position."""
    m = axle.measures
    for n in range(m.count("bracket")) if only is None else (only,):
        name = f"bracket.{n}"
        at, up = m.value(f"{name}.at"), turn(m.value(f"{name}.clock"))[1]
        along = m.word(f"{name}.lies", "along") == "along"
        half = m.value(f"{name}.length" if along else f"{name}.thickness") / 2.0
        foot = m.tube_radius(at)
        axle.box(at - half, at + half, foot * up, (foot + m.value(f"{name}.height")) * up, kind)


def guards(axle: Axle, kind: Line = "context") -> None:
    """Rims of the guards."""
    m = axle.measures
    for n in range(m.count("guard")):
        middle = axle.point(m.centre_at, 0.0)
        hidden: Line = "hidden" if m.word(f"guard.{n}.side", "front") == "front" else kind
        axle.paper.circle(middle, m.value(f"guard.{n}.diameter") / 2.0 * axle.scale, hidden)


def everything(axle: Axle, kind: Line = "context") -> None:
    """All that is welded on, and the perches."""
    for draw in (perches, spacers, trusses, gussets, brackets, guards):
        draw(axle, kind)
