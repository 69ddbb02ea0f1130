"""A tube with clamped ends, pressed down on its top at mid-length: half round, half long, by symmetry.

The same problem is put to our element, to scikit-fem's quadratic element and to CalculiX. All answers are
the vertical displacement of the inner skin at mid-length, at the top and at the bottom [m].
"""

from __future__ import annotations

import subprocess
from pathlib import Path

import numpy as np
from scipy.sparse import csc_array
from skfem import Basis, ElementHex2, ElementVector, MeshHex, MeshHex2
from skfem.models.elasticity import lame_parameters, linear_elasticity
from skfem.refdom import RefHex
from solid_meshes import POISSON, YOUNGS, solve_held, steel_stiffness, tube_mesh

from axlewright.solid.mesh import Floats, HexMesh, Ints
from axlewright.solid.shape import CORNERS

LENGTH, RADIUS, WALL = 0.6, 0.0445, 0.008
FORCE, HALF_PATCH = 10e3, 0.05
#: Edges of the 20-node hexahedron in CalculiX order.
EDGES = np.array(
    [[0, 1], [1, 2], [2, 3], [3, 0], [4, 5], [5, 6], [6, 7], [7, 4], [0, 4], [1, 5], [2, 6], [3, 7]]
)


def tube(around: int, along: int) -> HexMesh:
    """Half round and half long; mid-length is at x = 0, the clamped end at LENGTH / 2."""
    return tube_mesh((around, along, 1), LENGTH / 2, RADIUS, WALL, np.pi)


def planes(x: Floats, *conditions: tuple[int, float]) -> Ints:
    """Points, shape (N, 3), on all the planes given as (axis, position)."""
    return np.flatnonzero(np.all([np.isclose(x[:, a], v, atol=1e-9) for a, v in conditions], axis=0))


def load_line(x: Floats, quadratic: bool) -> tuple[Ints, Floats]:
    """Nodes along the top under the patch and the share of the load on each."""
    top = planes(x, (1, 0.0), (2, RADIUS))
    top = top[x[top, 0] < HALF_PATCH + 1e-9]
    top = top[np.argsort(x[top, 0])]
    cells = (len(top) - 1) // (2 if quadratic else 1)
    share = np.zeros(len(top))
    for cell in range(cells):
        if quadratic:
            share[2 * cell : 2 * cell + 3] += np.array([1, 4, 1]) / 6
        else:
            share[cell : cell + 2] += 1 / 2
    return top, share / cells


def displacement_hex8(around: int, along: int) -> tuple[float, float]:
    """Top and bottom displacement with our element [m]."""
    mesh = tube(around, along)
    x = mesh.nodes
    load = np.zeros(3 * len(x))
    top, share = load_line(x, quadratic=False)
    load[3 * top + 2] = -FORCE / 4 * share
    clamped = (3 * planes(x, (0, LENGTH / 2))[:, None] + np.arange(3)).ravel()
    held = np.r_[3 * planes(x, (0, 0.0)), 3 * planes(x, (1, 0.0)) + 1, clamped]
    found = solve_held(steel_stiffness(mesh), load, np.unique(held))[2::3]
    return _read(x, found)


def displacement_quadratic(around: int, along: int, curved: bool) -> tuple[float, float]:
    """Top and bottom displacement with scikit-fem's 27-node element [m]."""
    mesh = tube(around, along)
    order = [int(np.flatnonzero((corner == RefHex.p.T).all(axis=1))[0]) for corner in (CORNERS + 1) / 2]
    cells = np.empty((8, len(mesh.cells)), dtype=np.int64)
    cells[order] = mesh.cells.T
    other = MeshHex(mesh.nodes.T.copy(), cells)
    if curved:
        other = _curved(MeshHex2.from_mesh(other), around)
    basis = Basis(other, ElementVector(ElementHex2()), intorder=4)
    # Of the dofs of a point, every third is the vertical one.
    vertical = np.hstack([group[2::3].ravel() for group in _groups(basis)])
    sideways = np.hstack([group[1::3].ravel() for group in _groups(basis)])
    axial = np.hstack([group[0::3].ravel() for group in _groups(basis)])
    x = basis.doflocs[:, vertical].T
    load = np.zeros(basis.N)
    top, share = load_line(x, quadratic=True)
    load[vertical[top]] = -FORCE / 4 * share
    end = planes(x, (0, LENGTH / 2))
    held = [
        axial[planes(x, (0, 0.0))],
        sideways[planes(x, (1, 0.0))],
        axial[end],
        sideways[end],
        vertical[end],
    ]
    stiffness = csc_array(linear_elasticity(*lame_parameters(YOUNGS, POISSON)).assemble(basis))
    return _read(x, solve_held(stiffness, load, np.unique(np.hstack(held)))[vertical])


def displacement_calculix(around: int, along: int, element: str, folder: Path) -> tuple[float, float]:
    """Top and bottom displacement with CalculiX, run in a folder [m]."""
    mesh = tube(around, along)
    quadratic = element.startswith("C3D20")
    x, cells = _with_midsides(mesh) if quadratic else (mesh.nodes, mesh.cells)
    top, share = load_line(x, quadratic)
    deck = _deck(
        x, cells, element, [(int(n), -FORCE / 4 * float(s)) for n, s in zip(top, share, strict=True)]
    )
    (folder / "tube.inp").write_text(deck, encoding="utf-8")
    subprocess.run(["ccx", "tube"], cwd=folder, check=True, capture_output=True)
    lines = (line.split() for line in (folder / "tube.dat").read_text(encoding="utf-8").splitlines())
    table = np.array([[float(word) for word in words] for words in lines if len(words) == 4])
    assert len(table) == len(x)
    return _read(x, table[:, 3])


def _read(x: Floats, vertical: Floats) -> tuple[float, float]:
    """Displacement of the inner skin at the top and at the bottom of mid-length."""
    inner = [planes(x, (0, 0.0), (1, 0.0), (2, sign * (RADIUS - WALL))) for sign in (1, -1)]
    assert [len(points) for points in inner] == [1, 1]
    return float(vertical[inner[0][0]]), float(vertical[inner[1][0]])


def _groups(basis: Basis) -> list[Ints]:
    """Unknowns at corners, edges, faces and insides."""
    return [basis.nodal_dofs, basis.edge_dofs, basis.facet_dofs, basis.interior_dofs]


def _curved(mesh: MeshHex2, around: int) -> MeshHex2:
    """The quadratic mesh with its circumferential mid-points moved out to the circle."""
    x = mesh.doflocs.copy()
    place = np.arctan2(x[1], x[2]) / (np.pi / around)
    middle = np.abs(place - np.round(place)) > 0.25
    x[1:, middle] /= np.cos(np.pi / around / 2)
    return MeshHex2(x, mesh.t)


def _with_midsides(mesh: HexMesh) -> tuple[Floats, Ints]:
    """Nodes and cells of the 20-node mesh, its mid-side nodes on the circle."""
    pairs, inverse = np.unique(
        np.sort(mesh.cells[:, EDGES].reshape(-1, 2), axis=1), axis=0, return_inverse=True
    )
    ends = mesh.nodes[pairs]
    middle = ends.mean(axis=1)
    radius = np.hypot(ends[:, :, 1], ends[:, :, 2]).mean(axis=1)
    middle[:, 1:] *= (radius / np.hypot(middle[:, 1], middle[:, 2]))[:, None]
    numbers = len(mesh.nodes) + inverse.reshape(-1, 12)
    return np.vstack([mesh.nodes, middle]), np.hstack([mesh.cells, numbers])


def _deck(x: Floats, cells: Ints, element: str, loads: list[tuple[int, float]]) -> str:
    """CalculiX input."""
    lines = ["*NODE,NSET=ALL", *(f"{n + 1},{p[0]:.12e},{p[1]:.12e},{p[2]:.12e}" for n, p in enumerate(x))]
    lines.append(f"*ELEMENT,TYPE={element},ELSET=TUBE")
    for number, cell in enumerate(cells + 1):
        words = [str(number + 1), *map(str, cell)]
        lines += [
            ",".join(words[:12]) + ("," if len(words) > 12 else ""),
            *filter(None, [",".join(words[12:])]),
        ]
    lines += ["*MATERIAL,NAME=STEEL", "*ELASTIC", f"{YOUNGS},{POISSON}"]
    lines += ["*SOLID SECTION,ELSET=TUBE,MATERIAL=STEEL", "*BOUNDARY"]
    for condition, dofs in (((0, 0.0), "1,1"), ((1, 0.0), "2,2"), ((0, LENGTH / 2), "1,3")):
        lines += [f"{node + 1},{dofs}" for node in planes(x, condition)]
    lines += ["*STEP", "*STATIC", "*CLOAD", *(f"{node + 1},3,{force:.12e}" for node, force in loads)]
    return "\n".join([*lines, "*NODE PRINT,NSET=ALL", "U", "*END STEP", ""])
