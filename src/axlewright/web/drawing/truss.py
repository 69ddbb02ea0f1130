"""Where to measure a truss: along the axle from behind, and cut across."""

from __future__ import annotations

from axlewright.web.drawing import welded_on
from axlewright.web.drawing.axle import Axle, above_line, below_line, whole_axle
from axlewright.web.drawing.measures import Measures
from axlewright.web.drawing.paper import WIDTH, Paper, across, running, upright


def truss(m: Measures, n: int) -> str:
    """A truss on the axle, corner by corner, with its openings; then cut across."""
    name = f"truss.{n}"
    corners, openings = m.count(f"{name}.top"), m.count(f"{name}.openings")
    far = max([m.value(f"{name}.to")] + [m.value(f"{name}.top.{k}.0", 0.0) for k in range(corners)])
    reach = (WIDTH - 28.0) / max(m.length, far, 0.1)
    line = 16.0 + above_line(m) * reach
    rows = line + below_line(m) * reach + 16.0
    last = rows + _ROW * (1 + bool(openings))
    paper = Paper(f"truss-{n}-along", f"Truss {n + 1} from behind", last + _ROW)
    axle = whole_axle(paper, m, line, far)
    axle.housing("context")
    welded_on.trusses(axle, "edge", only=n)
    _openings(axle, name, n, rows + _ROW)
    _corners(axle, name, n, rows)
    for key in ("from", "to"):
        at = m.value(f"{name}.{key}")
        running(paper, m.sized(f"{name}.{key}"), axle.x(0.0), axle.point(at, axle.skin(at)), last, axle.scale)
    _clearance(axle, name)
    cut = Paper(f"truss-{n}-cut", f"Truss {n + 1} on its tube, cut across", 118.0)
    _cut(cut, m, name)
    return paper.svg() + cut.svg()


_ROW = 46.0
"""Height of a row of running dimensions with their figures."""


def _corners(axle: Axle, name: str, n: int, row: float) -> None:
    """The corners of the top edge: distance in one row of running dimensions, height upward from the axle line."""
    m, paper = axle.measures, axle.paper
    points = welded_on.top_edge(axle, n)
    for k in range(m.count(f"{name}.top")):
        if k >= len(points):
            return
        point = points[k]
        along, up = m.sized(f"{name}.top.{k}.0"), m.sized(f"{name}.top.{k}.1")
        running(paper, along, axle.x(0.0), point, row, axle.scale)
        upright(paper, up, (point[0], axle.line), point, point[0], axle.scale)
        paper.words(point[0], point[1] - 5.0, str(k + 1))


def _openings(axle: Axle, name: str, n: int, row: float) -> None:
    m, paper = axle.measures, axle.paper
    begin, end = m.value(f"{name}.from"), m.value(f"{name}.to")
    paper.line(welded_on.truss_seam(axle, n, begin, end), "weld")
    for k in range(m.count(f"{name}.openings")):
        each = f"{name}.openings.{k}"
        start, stop = m.value(f"{each}.from"), m.value(f"{each}.to")
        paper.line(welded_on.truss_seam(axle, n, start, stop), "open")
        for key, at in (("from", start), ("to", stop)):
            place = axle.point(at, welded_on.lower_edge(axle, n, at))
            running(paper, m.sized(f"{each}.{key}"), axle.x(0.0), place, row, axle.scale)


def _clearance(axle: Axle, name: str) -> None:
    """The air above the centre where the truss bridges it."""
    m = axle.measures
    top = m.value("housing.centre.height") / 2.0
    low = axle.point(m.centre_at, top)
    high = axle.point(m.centre_at, top + m.value(f"{name}.clear_of_centre"))
    upright(axle.paper, m.sized(f"{name}.clear_of_centre"), low, high, axle.x(m.centre_at) + 16.0, axle.scale)


def _cut(paper: Paper, m: Measures, name: str) -> None:
    """The truss on its tube, cut across, seen along the axle from the driver's right end."""
    box = m.word(f"{name}.form", "box") == "box"
    plate = m.value(f"{name}.thickness")
    width = m.value(f"{name}.width") if box else plate
    radius = m.tube_radius(m.value(f"{name}.from"))
    height = 1.1 * radius
    foot = (radius**2 - min(width / 2.0, radius) ** 2) ** 0.5
    crown = foot + height
    scale = min(84.0 / crown, 150.0 / max(2.0 * radius, width))
    axle = Axle(paper, m, 114.0, scale, WIDTH / 2.0)
    _arc_of_tube(axle, radius)
    for side in (-1.0, 1.0) if box else (0.0,):
        outer = side * width / 2.0
        inner = outer - side * plate if box else -plate / 2.0
        axle.box(outer if box else plate / 2.0, inner, foot, crown, "hatched")
    if box:
        axle.box(-width / 2.0, width / 2.0, crown - plate, crown, "hatched")
    line = axle.point(0.0, crown)[1] - 12.0
    if box:
        axle.along(f"{name}.width", -width / 2.0, width / 2.0, (crown, crown), line)
    else:
        ends = (
            axle.point(-m.value(f"{name}.width") / 2.0, crown),
            axle.point(m.value(f"{name}.width") / 2.0, crown),
        )
        across(paper, m.sized(f"{name}.width"), *ends, line, scale)
    right = width / 2.0
    middle = axle.point(0.0, foot + 0.45 * height)[1]
    axle.along(f"{name}.thickness", right - plate, right, (foot + 0.45 * height,) * 2, middle)


def _arc_of_tube(axle: Axle, radius: float) -> None:
    """The upper half of the tube below the truss."""
    from_left = [n / 24.0 for n in range(-24, 25)]
    points = [axle.point(radius * s, radius * (max(1.0 - s * s, 0.0)) ** 0.5) for s in from_left]
    axle.paper.line(points, "context")
