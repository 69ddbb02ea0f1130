"""A tube pressed between two supports, put to CalculiX with 20-node bricks that yield.

A quarter is meshed: half long (x from the ram to the support), half round (from the top, where the ram stands). The
push is prescribed, then taken back halfway; unloading is elastic, so the set follows on a straight line.
"""

from __future__ import annotations

import subprocess
from dataclasses import dataclass
from itertools import product
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Pressed:
    """What is pressed, and how.

    Args:
        outside: diameter [m].
        inside: diameter [m].
        arm: from ram to support [m].
        strength: yield strength [Pa].
        youngs: [Pa].
        push: of the ram [m].
        saddle: length of the saddle along the tube and half the angle it holds [m], [rad]; None pushes evenly on the
            whole section, so that nothing is flattened.
        cells: around half the tube, along half the span, through the wall.
    """

    outside: float
    inside: float
    arm: float
    strength: float
    youngs: float
    push: float
    saddle: tuple[float, float] | None = None
    cells: tuple[int, int, int] = (10, 16, 1)


@dataclass(frozen=True)
class Found:
    """Load of the ram [N], set of the far skin under it [m], and how much the section is flattened for good [m]."""

    load: float
    left: float
    flattened: float


def press(case: Pressed, folder: Path) -> Found:
    """Run the program and read what it found."""
    nodes, cells = _mesh(case)
    (folder / "press.inp").write_text(_deck(case, nodes, cells), encoding="ascii")
    subprocess.run(["ccx", "press"], cwd=folder, check=True, capture_output=True, timeout=300)
    return _read(case, nodes, (folder / "press.dat").read_text(encoding="ascii"))


def _mesh(case: Pressed) -> tuple[Floats, Ints]:
    """Nodes (N, 3) [m] and 20-node cells, dense towards the ram."""
    around, along, through = (2 * n for n in case.cells)
    steps = np.linspace(0.0, 1.0, along + 1)
    x = case.arm * (0.35 * steps + 0.65 * steps**2)
    x[1::2] = 0.5 * (x[:-2:2] + x[2::2])
    angle = np.linspace(0.0, np.pi, around + 1)
    radius = np.linspace(case.inside, case.outside, through + 1) / 2.0
    number = -np.ones((along + 1, around + 1, through + 1), dtype=np.int64)
    points: list[tuple[float, float, float]] = []
    for key in product(range(along + 1), range(around + 1), range(through + 1)):
        if sum(k % 2 for k in key) <= 1:
            number[key] = len(points)
            i, j, k = key
            points.append((x[i], radius[k] * np.sin(angle[j]), radius[k] * np.cos(angle[j])))
    corners = ((0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0), (0, 0, 2), (2, 0, 2), (2, 2, 2), (0, 2, 2))
    edges = ((0, 1), (1, 2), (2, 3), (3, 0), (4, 5), (5, 6), (6, 7), (7, 4), (0, 4), (1, 5), (2, 6), (3, 7))
    places = [*corners, *(tuple((np.array(corners[a]) + corners[b]) // 2) for a, b in edges)]
    first = product(range(0, along, 2), range(0, around, 2), range(0, through, 2))
    cells = [[number[i + a, j + b, k + c] for a, b, c in places] for i, j, k in first]
    return np.array(points), np.array(cells)


def _deck(case: Pressed, nodes: Floats, cells: Ints) -> str:
    def listed(name: str, chosen: Ints) -> str:
        rows = [chosen[n : n + 10] + 1 for n in range(0, len(chosen), 10)]
        return f"*NSET,NSET={name}\n" + "\n".join(",".join(map(str, row)) for row in rows) + "\n"

    x, y, _ = nodes.T
    ram = len(nodes) + 1
    text = "*NODE,NSET=ALL\n" + "\n".join(
        f"{n},{a:.9e},{b:.9e},{c:.9e}" for n, (a, b, c) in enumerate(nodes, 1)
    )
    text += f"\n{ram},0.,0.,0.\n{ram + 1},0.,0.,0."
    text += "\n*ELEMENT,TYPE=C3D20R,ELSET=TUBE\n"
    for n, cell in enumerate(cells + 1, 1):
        text += f"{n}," + ",".join(map(str, cell[:10])) + ",\n" + ",".join(map(str, cell[10:])) + "\n"
    text += listed("MIDDLE", np.flatnonzero(x < 1e-9)) + listed("SIDE", np.flatnonzero(y < 1e-9))
    # Equations carry no reaction of their own: a stiff spring to the ram shows the load.
    text += (
        f"*ELEMENT,TYPE=SPRING2,ELSET=ROD\n{len(cells) + 1},{ram},{ram + 1}\n*SPRING,ELSET=ROD\n3,3\n1.e11\n"
    )
    text += f"*NSET,NSET=RAM\n{ram + 1}\n" + listed("SKINS", _skins(case, nodes))
    text += _mean(case, nodes, case.arm, 0)
    if case.saddle is None:
        text += _mean(case, nodes, 0.0, ram)
    else:
        text += "".join(f"*EQUATION\n2\n{n + 1},3,1.,{ram},3,-1.\n" for n in _under_saddle(case, nodes))
    text += f"*MATERIAL,NAME=STEEL\n*ELASTIC\n{case.youngs},0.3\n*PLASTIC\n"
    text += f"{case.strength},0.\n{case.strength * 1.001},1.\n*SOLID SECTION,ELSET=TUBE,MATERIAL=STEEL\n"
    text += f"*BOUNDARY\nMIDDLE,1,1\nSIDE,2,2\n{ram},1,2\n{ram + 1},1,2\n"
    for push_now, first in ((case.push, 0.05), (case.push / 2.0, 0.5)):
        text += f"*STEP,INC=200\n*STATIC\n{first},1.\n*BOUNDARY\nRAM,3,3,{-push_now:.9e}\n"
        text += "*NODE PRINT,NSET=RAM,TOTALS=ONLY,FREQUENCY=1000\nRF\n"
        text += "*NODE PRINT,NSET=SKINS,FREQUENCY=1000\nU\n*END STEP\n"
    return text


def _mean(case: Pressed, nodes: Floats, at: float, follows: int) -> str:
    """The section at x moves with a node on the whole (with none: stays), the force spread as bending shear is."""
    on = np.flatnonzero(np.abs(nodes[:, 0] - at) < 1e-9)
    angle = np.arctan2(nodes[on, 1], nodes[on, 2])
    around, _, through = case.cells
    place = np.rint(angle / np.pi * 2 * around).astype(int)
    radius = np.hypot(nodes[on, 1], nodes[on, 2])
    level = np.rint((2.0 * radius - case.inside) / (case.outside - case.inside) * 2 * through).astype(int)
    # Even traction on an 8-node face: a third at each middle of an edge, minus a twelfth at each corner.
    corner = (place % 2 == 0) & (level % 2 == 0)
    faces = (2.0 - np.isin(place, (0, 2 * around))) * (2.0 - np.isin(level, (0, 2 * through)))
    inner_edge = np.where(
        place % 2 == 1, 2.0 - np.isin(level, (0, 2 * through)), 2.0 - np.isin(place, (0, 2 * around))
    )
    weight = np.where(corner, -faces / 12.0, inner_edge / 3.0) * np.sin(angle) ** 2
    weight /= weight.sum()
    terms = sorted(((w, n + 1) for w, n in zip(weight, on, strict=True) if abs(w) > 1e-12), reverse=True)
    words = [f"{n},3,{w:.9e}" for w, n in terms] + ([f"{follows},3,-1."] if follows else [])
    rows = [",".join(words[n : n + 4]) for n in range(0, len(words), 4)]
    return f"*EQUATION\n{len(words)}\n" + ",\n".join(rows) + "\n"


def _under_saddle(case: Pressed, nodes: Floats) -> list[int]:
    assert case.saddle is not None
    length, half_angle = case.saddle
    radius, angle = np.hypot(nodes[:, 1], nodes[:, 2]), np.arctan2(nodes[:, 1], nodes[:, 2])
    on_skin = radius > case.outside / 2.0 - 1e-9
    return list(np.flatnonzero(on_skin & (nodes[:, 0] < length / 2.0 + 1e-9) & (angle < half_angle + 1e-9)))


def _skins(case: Pressed, nodes: Floats) -> Ints:
    """The outer skin under the ram: top, then bottom."""
    up = nodes[:, 2] * (np.abs(nodes[:, 0]) < 1e-9)
    return np.array([np.argmax(up), np.argmin(up)])


def _read(case: Pressed, nodes: Floats, text: str) -> Found:
    numbers = [[float(word) for word in line.split()] for line in text.splitlines() if _is_row(line)]
    loads = [-4.0 * row[-1] for row in numbers if len(row) == 3]
    top, bottom = (int(n) + 1 for n in _skins(case, nodes))
    moved = [[row[3] for row in numbers if len(row) == 4 and row[0] == n] for n in (top, bottom)]
    share = loads[0] / (loads[0] - loads[1])
    left = [full + share * (half - full) for full, half in moved]
    return Found(loads[0], -left[1], left[1] - left[0])


def _is_row(line: str) -> bool:
    words = line.split()
    try:
        return bool([float(word) for word in words]) and len(words) in (3, 4)
    except ValueError:
        return False
