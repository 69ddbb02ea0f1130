"""Meshes and small solution steps shared by the tests of the solid room."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.sparse import csc_array, csr_array

from axlewright.solid.assembly import assemble, assemble_rectangular
from axlewright.solid.factor import Factor
from axlewright.solid.hexahedron import conduction, stiffness, thermal_load
from axlewright.solid.mesh import Floats, HexMesh, Ints

YOUNGS = 210e9
POISSON = 0.3
EXPANSION = 1.2e-5


def grid_mesh(
    counts: tuple[int, int, int], place: Callable[[Floats], Floats], closed: bool = False
) -> HexMesh:
    """Structured mesh whose unit-cube grid points are moved by `place`; closed joins the ends of axis 0."""
    first, second, third = counts
    rounds = first if closed else first + 1
    grid = np.stack(
        np.meshgrid(
            np.arange(rounds) / first,
            np.linspace(0, 1, second + 1),
            np.linspace(0, 1, third + 1),
            indexing="ij",
        ),
        axis=-1,
    ).reshape(-1, 3)
    i, j, k = (a.ravel() for a in np.meshgrid(*(np.arange(n) for n in counts), indexing="ij"))
    steps = [(0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0), (0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)]
    corners = [((i + a) % rounds * (second + 1) + j + b) * (third + 1) + k + c for a, b, c in steps]
    return HexMesh(place(grid), np.stack(corners, axis=1).astype(np.int64))


def box_mesh(counts: tuple[int, int, int], size: tuple[float, float, float] = (1.0, 1.0, 1.0)) -> HexMesh:
    """Regular box from the origin."""
    return grid_mesh(counts, lambda grid: grid * np.array(size))


def distorted_box(counts: tuple[int, int, int], amount: float = 0.25, seed: int = 7) -> HexMesh:
    """Unit cube whose inner nodes are moved at random by up to `amount` of half a cell."""
    mesh = box_mesh(counts)
    inner = np.all((mesh.nodes > 1e-9) & (mesh.nodes < 1 - 1e-9), axis=1, keepdims=True)
    moves = np.random.default_rng(seed).uniform(-amount, amount, mesh.nodes.shape) / np.array(counts)
    return HexMesh(mesh.nodes + moves * inner, mesh.cells)


def tube_mesh(
    counts: tuple[int, int, int], length: float, radius: float, wall: float, angle: float = 2 * np.pi
) -> HexMesh:
    """Tube along x from x = 0, swept from +z towards +y by `angle`; counts are round, along, through."""

    def place(grid: Floats) -> Floats:
        theta, r = angle * grid[:, 0], radius - wall + wall * grid[:, 2]
        # Sweeping from +z to +y about x is left-handed, so x runs backwards to keep Jacobians positive.
        return np.stack([length * (1 - grid[:, 1]), r * np.sin(theta), r * np.cos(theta)], axis=1)

    return grid_mesh(counts, place, closed=angle >= 2 * np.pi)


def strip_mesh(
    along: int, high: int, length: float, bottom: float, height: float, thickness: float
) -> HexMesh:
    """Upright plate on the x axis, one cell thick, from x = 0."""
    shift = np.array([0.0, -thickness / 2, bottom])
    return grid_mesh((along, 1, high), lambda grid: grid * np.array([length, thickness, height]) + shift)


def steel_stiffness(mesh: HexMesh, poisson: float = POISSON, youngs: float = YOUNGS) -> csc_array:
    """Global stiffness of a mesh of one material."""
    one = np.ones(len(mesh.cells))
    return assemble(
        mesh.cells, stiffness(mesh.cell_coordinates, youngs * one, poisson * one), 3 * len(mesh.nodes), 3
    )


def steel_thermal_load(mesh: HexMesh) -> csr_array:
    """Global nodal force per nodal temperature of a steel mesh."""
    one = np.ones(len(mesh.cells))
    loads = thermal_load(mesh.cell_coordinates, YOUNGS * one, POISSON * one, EXPANSION * one)
    return assemble_rectangular(mesh.cells, loads, len(mesh.nodes))


def unit_conduction(mesh: HexMesh, conductivity: float = 1.0) -> csc_array:
    """Global conduction matrix of one material."""
    matrices = conduction(mesh.cell_coordinates, np.full(len(mesh.cells), conductivity))
    return assemble(mesh.cells, matrices, len(mesh.nodes), 1)


def solve_held(matrix: csc_array, load: Floats, held: Ints, values: Floats | None = None) -> Floats:
    """Solution with some unknowns prescribed (zero when no values are given)."""
    solution = np.zeros(len(load))
    if values is not None:
        solution[held] = values
    free = np.setdiff1d(np.arange(len(load)), held)
    rest = load - matrix @ solution
    solution[free] = Factor(csc_array(matrix[free][:, free])).solve(rest[free, None])[:, 0]
    return solution


def nodes_where(mesh: HexMesh, *conditions: tuple[int, float]) -> Ints:
    """Nodes on all the planes given as (axis, position)."""
    hit = np.ones(len(mesh.nodes), dtype=bool)
    for axis, position in conditions:
        hit &= np.isclose(mesh.nodes[:, axis], position, atol=1e-9)
    return np.flatnonzero(hit)
