"""The moving picture of a plan: temperatures, axis, beads and tacks as the model has them, in a small file."""

from __future__ import annotations

import gzip
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from plan.picture_read import read_back, viewed
from plan.planned import common_for, small_job
from reference.benches import CACHE, bench_for
from reference.full_order import full_order_for
from reference.jobs import demo

from axlewright.distortion.model import build_model, skin_of
from axlewright.distortion.shape import cold_shape
from axlewright.distortion.skin_store import save_skin, skin_path
from axlewright.distortion.springs import fillet_stiffness
from axlewright.heat.reduce import reduce_heat
from axlewright.heat.system import heat_system
from axlewright.heat.varied import HeatFactors
from axlewright.plan.how_sure import as_shape
from axlewright.plan.moments import COLD, COOLING, DOING, STARTS, STOPS, moments_of
from axlewright.plan.moving_picture import MovingPicture, moving_axis, moving_picture, tack_loads
from axlewright.plan.picture_file import picture_bytes
from axlewright.plan.picture_surface import surface_of
from axlewright.plan.sampling import figures_of
from axlewright.plan.spreads import Inputs
from axlewright.solid.hexahedron import lumped_capacity
from axlewright.tasks.viewing import plan_view
from axlewright.weld.steel import steel

MANUAL = Path(__file__).parents[2] / "docs" / "view.md"


def pictured(job=None) -> MovingPicture:  # type: ignore[no-untyped-def]
    """Common practice on a job as a picture."""
    job = job or small_job()
    bench = bench_for(job)
    return moving_picture(bench, common_for(job), skin_of(bench.model, job, CACHE[0]))


# Temperature


@pytest.mark.analytical
@pytest.mark.parametrize("name", ["rescue-truck", "truss-only"])
def test_skin_temperatures_are_within_two_kelvin_of_the_exact_modal_answer(name: str) -> None:
    """Every skin node at every moment, from ambient up to the top of the scale, is right to half a step of it."""
    # Source: ambient + shapes @ state in double precision. Tolerance: half a step of 2 K, and 0.01 K for the single
    # precision in which the shapes are kept. The promise is 2 K.
    job = demo(name)
    bench, trial = bench_for(job), common_for(job)
    read = read_back(viewed(job))
    assembly = bench.model.assembly
    seals = tuple((seal.name, seal.at) for seal in job.housing.seals)
    beads = np.array([stretch.bead for stretch in assembly.stretches])
    modes, shapes = reduce_heat(heat_system(assembly, job.ambient.temperature, seals), beads)
    exact = (shapes @ moments_of(bench, trial, modes).states).T
    top = read.header["temperature"]["step_k"] * (read.header["temperature"]["codes"] - 1)
    assert np.abs(read.rises - np.clip(exact, 0, top)).max() <= 1.01
    assert read.header["ambient_c"] == job.ambient.temperature


@pytest.mark.analytical
@pytest.mark.parametrize("flow", [HeatFactors(), HeatFactors(1.4, 0.5, 1.05, 0.9)])
def test_the_skin_where_a_bead_starts_has_its_spot_temperature(flow: HeatFactors) -> None:
    """Where each bead starts, the picture's skin has the plan's spot temperature, also with a varied heat flow."""
    # Source: the same rows that make the modes' spot temperatures. Tolerance: half a step of the scale for each of the
    # nodes, whose weights add up to one.
    job = small_job()
    bench = bench_for(job).varied(Inputs(flow=flow))
    trial = bench.try_plan(common_for(job).timeline.steps)
    read = read_back(plan_view(bench, trial, CACHE[0]))
    rows = heat_system(bench.model.assembly, job.ambient.temperature).spot
    laying = trial.timeline.laying
    found = [
        (rows @ rise)[laying.stretches[laying.first[n]]]
        for n, rise in enumerate(read.rises[read.arrays["doing"] == STARTS])
    ]
    assert found == pytest.approx(trial.timeline.spots, abs=1.01)


def test_a_skin_worked_out_again_tells_the_same_temperatures(tmp_path: Path) -> None:
    """Where no skin is kept beside the model, it is worked out and kept; temperatures are the same to 0.01 K."""
    job = small_job()
    bench, trial = bench_for(job), common_for(job)
    build_model(job, tmp_path)
    path = skin_path(next(tmp_path.glob("*.npz")))
    kept = path.read_bytes()
    path.unlink()
    again = skin_of(build_model(job, tmp_path), job, tmp_path)
    assert path.exists() and len(path.read_bytes()) == len(kept)
    rises = moving_picture(replace(bench, model=build_model(job, tmp_path)), trial, again).rises
    assert np.abs(rises - pictured(job).rises).max() < 0.01


def test_modes_of_their_own_serve_where_the_kept_ones_are_of_another_turn() -> None:
    """A skin whose modes have other signs than the model's tells the same temperatures and the same axis."""
    job = small_job()
    bench, trial = bench_for(job), common_for(job)
    skin = skin_of(bench.model, job, CACHE[0])
    sign = np.where(np.arange(len(skin.modes.rate)) % 2, -1.0, 1.0)
    modes = replace(
        skin.modes,
        inlet=skin.modes.inlet * sign[:, None],
        spot=skin.modes.spot * sign,
        watch=skin.modes.watch * sign,
    )
    other = moving_picture(
        bench, trial, replace(skin, modes=modes, shapes=skin.shapes * sign.astype(np.float32))
    )
    usual = pictured(job)
    assert np.abs(other.rises - usual.rises).max() < 0.01
    assert other.axis.vertical == pytest.approx(usual.axis.vertical, abs=1e-12)


def test_a_model_that_is_loaded_reads_no_skin(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who never looks at a picture does not wait for what it needs."""
    build_model(small_job(), tmp_path)
    skin_path(next(tmp_path.glob("*.npz"))).write_bytes(b"not to be read")
    assert build_model(small_job(), tmp_path).from_cache


def test_a_spoilt_skin_is_worked_out_again(tmp_path: Path) -> None:
    """A skin that was cut short, or belongs to other modes, is not believed."""
    model = build_model(small_job(), tmp_path)
    path = next(tmp_path.glob("*.npz"))
    kept, whole = skin_of(model, small_job(), tmp_path), skin_path(path).read_bytes()
    skin_path(path).write_bytes(whole[: len(whole) // 2])
    assert np.array_equal(skin_of(model, small_job(), tmp_path).shapes, kept.shapes)
    assert skin_path(path).read_bytes() == whole
    foreign = replace(kept, modes=replace(kept.modes, rate=1.01 * kept.modes.rate), shapes=2 * kept.shapes)
    assert save_skin(path, foreign)
    assert np.array_equal(skin_of(model, small_job(), tmp_path).shapes, kept.shapes)


# Shape


@pytest.mark.parametrize("extra", ["", "fixture"])
def test_the_last_moment_is_the_cold_shape_of_the_report(extra: str) -> None:
    """When all is cold, and let go of where it was clamped, the picture shows the shape that the report predicts."""
    job = small_job() if not extra else small_job(FIXTURE)
    read = read_back(viewed(job))
    shape = common_for(job).shape
    step = read.header["axis"]["step_m"]
    assert read.arrays["vertical"][-1] * step == pytest.approx(shape.vertical, abs=step)
    assert read.arrays["fore_aft"][-1] * step == pytest.approx(shape.fore_aft, abs=step)
    told = as_shape(figures_of(bench_for(job), common_for(job)))  # what the report's prediction is made of
    expected = [
        told.bow_vertical,
        told.bow_fore_aft,
        told.camber_deg.left,
        told.camber_deg.right,
        told.toe_deg.left,
        told.toe_deg.right,
        told.twist_deg,
    ]
    assert read.arrays["figures"][-1] == pytest.approx(expected, rel=1e-5, abs=1e-7)
    assert read.arrays["doing"][-1] == COLD and (read.arrays["rises"][-1] == 0).all()


FIXTURE = "\n[fixture]\nprebend = 'best'\n" + "".join(
    f"[[fixture.support]]\nat = {place}\nplane = 'vertical'\n" for place in (100, 500, 900)
)


@pytest.mark.analytical
def test_the_axis_with_all_laid_and_no_heat_is_the_cold_one() -> None:
    """Read at a moment with every bead laid and no heat, the axis is what the walk ends with, to round-off."""
    # Source: the same structure. Tolerance: round-off of a displacement of a millimetre.
    bench, trial = bench_for(demo("truss-only")), common_for(demo("truss-only"))
    cold = np.zeros((len(bench.model.modes.rate), 1))
    found = bench.axis_at(trial.timeline, cold, np.array([len(trial.timeline.steps)]))
    assert found[0] == pytest.approx(bench.read(trial.walked), abs=1e-15)


@pytest.mark.analytical
@pytest.mark.xdist_group("full order")
def test_the_axis_on_the_way_equals_full_order_resolution() -> None:
    """At the start of every bead, and in the pause after it, the axis is what the whole mesh gives at that moment."""
    # Source: the same elastic problem solved without condensation, one factorisation a moment. Algebraically equal:
    # 1e-6 of the largest reading leaves room for round-off alone.
    job = small_job()
    bench, trial = bench_for(job), common_for(job)
    line = trial.timeline
    moments = moments_of(bench, trial, bench.model.modes)
    found = bench.axis_at(line, moments.states, moments.laid)
    walk = full_order_for(bench)
    per_length = fillet_stiffness(bench.settings.leg, steel(job.housing.steel))
    for stretch, state in zip(bench.tacks.stretches, bench.tacks.states.T, strict=True):
        walk.set_tack(int(stretch), per_length * job.welder.tack_length, state)
    expected, laid = [], 0
    for n, state in zip(moments.laid, moments.states.T, strict=True):
        while laid < n:
            part = slice(line.laying.first[laid], line.laying.first[laid + 1])
            lengths = line.laying.lengths[part]
            stiffness = (lengths[:, None] * per_length).ravel()
            walk.lay_bead(
                line.laying.stretches[part], stiffness, bench.shrink, lengths, line.laying.states[:, laid]
            )
            laid += 1
        expected.append((walk.rows @ walk.displacement(state))[6 * len(bench.model.host_share) :])
    assert found == pytest.approx(np.array(expected), abs=1e-6 * np.abs(expected).max())


def test_where_an_arc_stops_the_axis_is_between_its_neighbours() -> None:
    """While an arc burns no elastic shape holds: the axis is drawn on the straight way, in time, to the next moment."""
    bench, trial = bench_for(small_job()), common_for(small_job())
    moments = moments_of(bench, trial, bench.model.modes)
    axis = moving_axis(bench, trial, moments)
    for n in np.flatnonzero(moments.doing == STOPS):
        expected = np.interp(moments.time[n], moments.time[[n - 1, n + 1]], axis.vertical[[n - 1, n + 1], 13])
        assert axis.vertical[n, 13] == pytest.approx(expected, abs=1e-15)


def test_in_a_fixture_the_shape_springs_back_at_last() -> None:
    """The last moment but one is clamped on its shims; the last one is let go."""
    job = small_job(FIXTURE)
    bench, trial = bench_for(job), common_for(job)
    axis = moving_axis(bench, trial, moments_of(bench, trial, bench.model.modes))
    assert bench.release is not None
    held = bench.release.on_shims(bench.read(trial.walked), bench.shim_heights)
    clamped = cold_shape(bench.model.stations, held)
    # What heat is left in the last moment of cooling, less than 1 K, moves the axis by less than 10 um.
    assert axis.vertical[-2] == pytest.approx(clamped.vertical, abs=1e-5)
    assert np.abs(axis.vertical[-1] - clamped.vertical).max() > 2e-5


# Moments, beads and tacks


def test_each_bead_starts_and_stops_at_its_moment() -> None:
    """Moments come in the order of time; every bead has one at its start and one at its stop, told with its number."""
    job = demo("truss-only")
    trial, read = common_for(job), read_back(viewed(job))
    time, doing = read.arrays["time"], read.arrays["doing"]
    assert (np.diff(time) > 0).all()
    assert time[doing == STARTS] == pytest.approx(trial.timeline.starts, rel=1e-6)
    assert time[doing == STOPS] == pytest.approx(trial.timeline.starts + trial.timeline.arcs, rel=1e-6)
    for number, bead in enumerate(read.header["beads"]):
        assert bead["number"] == number + 1
        assert bead["spot_c"] == pytest.approx(job.ambient.temperature + trial.timeline.spots[number])
    assert (read.arrays["laid"][doing == STARTS] == np.arange(len(trial.timeline.steps))).all()
    assert (read.arrays["laid"][doing == STOPS] == 1 + np.arange(len(trial.timeline.steps))).all()
    assert (doing == COOLING).sum() > 5 and read.header["doing_words"] == list(DOING)


def test_beads_lie_on_the_skin() -> None:
    """No point of a bead's line is farther than 1.5 mm from the drawn skin, a polygon round the true one."""
    # A tube of 89 mm in 24 flats stands up to 0.25 mm over and 0.13 mm under its circle; where the tube runs into the
    # centre, cells of 7 mm cut the corner by up to a millimetre.
    read = read_back(viewed(demo("truss-only")))
    corners = read.places("places")[read.arrays["corner_node"]]
    quads = corners[read.arrays["faces"]]
    triangles = np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])
    away = [distance(point, triangles) for point in read.places("bead_points")]
    assert max(away) < 1.5e-3


def distance(point: NDArray[np.float64], triangles: NDArray[np.float64]) -> float:
    """Distance of a point from the nearest of many triangles [m], by a fine net of points on those close by."""
    near = triangles[np.argsort(np.linalg.norm(triangles.mean(axis=1) - point, axis=1))[:60]]
    steps = np.linspace(0, 1, 25)
    shares = np.array([[a, b, 1 - a - b] for a in steps for b in steps if a + b <= 1 + 1e-9])
    net = np.einsum("sk,tki->tsi", shares, near).reshape(-1, 3)
    return float(np.linalg.norm(net - point, axis=1).min())


def test_tack_loads_are_those_of_the_plan() -> None:
    """The largest load of each tack over the moments is what the report calls its utilisation; welded over, none."""
    job = demo("truss-only")
    bench, trial, read = bench_for(job), common_for(job), read_back(viewed(job))
    loads = read.arrays["tack_loads"] * read.header["tack_load"]["step"]
    assert loads.max(axis=1) == pytest.approx(trial.tack_utilisation, abs=6e-4)
    assert [tack["largest"] for tack in read.header["tacks"]] == pytest.approx(trial.tack_utilisation)
    assert tack_loads(bench, trial).max(axis=1) == pytest.approx(trial.tack_utilisation)
    for tack, row in zip(read.header["tacks"], loads, strict=True):
        assert (row[tack["melted_by"] + 1 :] == 0).all()
    assert (read.header["tack_load"]["near"], read.header["tack_load"]["beyond"]) == (0.8, 1.0)


# Skin


@pytest.mark.analytical
@pytest.mark.parametrize("name", ["rescue-truck", "cast-centre"])
def test_the_skin_is_closed_and_looks_outward(name: str) -> None:
    """Every edge is passed as often one way as the other, and the skin encloses the volume of the mesh."""
    # Source: divergence theorem, V = sum of x . n dA / 3, on flat triangles. Cells with warped faces differ from their
    # triangles by less than 1 %.
    mesh = bench_for(demo(name)).model.assembly.mesh
    surface = surface_of(mesh)
    quads = surface.corner_node[surface.faces]
    ways: dict[tuple[int, int], int] = {}
    for quad in quads.tolist():
        for a, b in zip(quad, quad[1:] + quad[:1], strict=True):
            ways[min(a, b), max(a, b)] = ways.get((min(a, b), max(a, b)), 0) + (1 if a < b else -1)
    assert not any(ways.values())
    points = mesh.nodes[surface.nodes][quads]
    triangles = np.concatenate([points[:, [0, 1, 2]], points[:, [0, 2, 3]]])
    enclosed = np.einsum("ti,ti->", triangles[:, 0], np.cross(triangles[:, 1], triangles[:, 2])) / 6
    volume = lumped_capacity(mesh.cell_coordinates, np.ones(len(mesh.cells))).sum()
    assert enclosed == pytest.approx(volume, rel=0.01)


def test_edges_are_where_the_skin_is_sharp() -> None:
    """Rims of plates and flanges are edges; the flats of a round tube are none."""
    mesh = bench_for(small_job()).model.assembly.mesh
    surface = surface_of(mesh)
    ends = mesh.nodes[surface.nodes][surface.edges]
    along = np.abs(ends[:, 1] - ends[:, 0])
    radius = np.hypot(ends[..., 1], ends[..., 2])
    of_housing = (
        surface.nodes[surface.edges] < len(bench_for(small_job()).model.assembly.parts[0].mesh.nodes)
    ).all(axis=1)
    on_tube = of_housing & (np.abs(radius - 0.0445) < 1e-3).all(axis=1) & (along[:, 0] > 5e-3)
    assert not on_tube.any()
    on_flange = (np.abs(radius - 0.060) < 1e-4).all(axis=1)
    assert on_flange.sum() == 4 * 24  # both faces of both flanges


# File


def test_the_same_plan_gives_the_same_bytes() -> None:
    """Nothing of the day it was made is in the file."""
    assert picture_bytes(pictured()) == picture_bytes(pictured()) == viewed(small_job())
    assert viewed(small_job())[4:8] == bytes(4)  # where gzip keeps the time (RFC 1952, 2.3)


def test_a_plan_of_98_beads_takes_less_than_a_megabyte() -> None:
    """The largest demo's picture is fetched in a moment on a shop's network."""
    assert len(viewed(demo("rescue-truck"))) < 700_000


def test_the_manual_describes_every_part_of_the_file() -> None:
    """Each array and each entry of the header stands in docs/view.md with its type."""
    read = read_back(viewed(small_job()))
    manual = MANUAL.read_text(encoding="utf-8")
    for name, told in read.header["arrays"].items():
        line = next((line for line in manual.splitlines() if line.startswith(f"| `{name}` |")), "")
        assert f"| {told['type']} |" in line, name
    for name in read.header:
        assert f"`{name}`" in manual, name
    for table in ("beads", "tacks"):
        for name in read.header[table][0]:
            assert f"`{name}`" in manual, (table, name)


def test_arrays_can_be_read_where_they_lie() -> None:
    """Header and arrays begin at multiples of eight bytes, and nothing overlaps."""
    data = viewed(small_job())
    raw = gzip.decompress(data)
    length = int(np.frombuffer(raw[12:16], "<u4")[0])
    told = read_back(data).header["arrays"].values()
    ends = [0]
    for each in told:
        assert each["at"] % 8 == 0 and each["at"] >= ends[-1]
        ends.append(each["at"] + int(np.prod(each["shape"])) * np.dtype(each["type"]).itemsize)
    assert length % 8 == 0 and ends[-1] <= len(raw) - 16 - length
