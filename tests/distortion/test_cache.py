"""Models kept on disk: the same job loads one, and nothing that is damaged, foreign or half written is believed."""

from __future__ import annotations

import io
import shutil
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from reference.jobs import plain_tube, strip
from spoilt import SAVEZ, SPOILT, npz

from axlewright import tasks
from axlewright.distortion import model, store
from axlewright.distortion.model import Model, build_model
from axlewright.distortion.store import load_arrays, save_arrays
from axlewright.job.schema import Job

ARRAYS = {"compliance": np.arange(12.0).reshape(3, 4), "places": np.array(["left bearing seat", "seal"])}


def small_job(at: float = 300) -> Job:
    """A tube with two short brackets."""
    return plain_tube(strip("upper", at=at, length=100) + strip("lower", at=650, clock=6, length=100))


@cache
def fresh() -> Model:
    """The small job's model, built without a cache."""
    return build_model(small_job())


def kept_file(folder: Path) -> Path:
    """The one model in a cache folder."""
    return next(folder.glob("*.npz"))


@pytest.fixture(scope="module")
def one_kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A cache folder with the small job's model in it."""
    folder = tmp_path_factory.mktemp("kept")
    assert not build_model(small_job(), folder).from_cache
    return folder


@pytest.fixture
def folder(one_kept: Path, tmp_path: Path) -> Path:
    """A copy of that folder which a test may spoil."""
    return Path(shutil.copytree(one_kept, tmp_path / "models"))


def same(one: Model, other: Model) -> bool:
    """Whether two models hold the same numbers to the last bit."""
    parts = (
        (
            m.modes.rate,
            m.modes.inlet,
            m.modes.spot,
            m.modes.watch,
            m.base.compliance,
            m.base.thermal,
            m.stations,
        )
        for m in (one, other)
    )
    return one.modes.places == other.modes.places and all(
        a.tobytes() == b.tobytes() for a, b in zip(*parts, strict=True)
    )


def test_the_second_build_is_loaded_and_the_same(folder: Path) -> None:
    """The same geometry comes from the cache, to the last bit what was built."""
    loaded = build_model(small_job(), folder)
    assert loaded.from_cache
    assert same(loaded, fresh())


def test_a_kept_model_gives_the_same_plan(tmp_path: Path) -> None:
    """plan.json from the kept model is the one from the built model, but for where the model came from."""
    texts = [tasks.plan_text(tasks.plan_job(small_job(), tmp_path)) for _ in range(2)]
    assert [f'"from_cache": {word}' in text for word, text in zip(("false", "true"), texts, strict=True)] == [
        True
    ] * 2
    plain = [
        [line for line in text.splitlines() if not line.strip().startswith(('"build_s"', '"from_cache"'))]
        for text in texts
    ]
    assert plain[0] == plain[1]


def changed(part: str, **values: object) -> Job:
    """The small job with values of one table changed."""
    job = small_job()
    return job.model_copy(update={part: getattr(job, part).model_copy(update=values)})


OTHER_MODELS = {
    "attachment moved": lambda: small_job(at=301),
    "length": lambda: changed("housing", length=1.001),
    "wall": lambda: changed(
        "housing", left_tube=small_job().housing.left_tube.model_copy(update={"wall": 0.009})
    ),
    "steel": lambda: changed("housing", steel="S235"),
    "bead length": lambda: changed("welder", bead_length=0.04),
    "air": lambda: changed("ambient", temperature=5.0),
}


@pytest.mark.parametrize("what", OTHER_MODELS)
def test_a_changed_dimension_is_built_anew(folder: Path, what: str) -> None:
    """Whatever shapes the model has a model of its own; the one kept before stays."""
    other = build_model(OTHER_MODELS[what](), folder)
    assert not other.from_cache
    assert len(list(folder.glob("*.npz"))) == 2
    assert build_model(small_job(), folder).from_cache


SAME_MODEL = {
    "current": lambda: changed("welder", amps=140.0),
    "limit": lambda: changed("limits", spot=60.0),
    "habit": lambda: changed("bench", cool_down=1200.0),
    "name": lambda: changed("job", name="another job"),
    "tack spacing": lambda: changed("welder", tack_spacing=0.03),
}


@pytest.mark.parametrize("what", SAME_MODEL)
def test_what_does_not_shape_the_model_uses_the_kept_one(folder: Path, what: str) -> None:
    """Settings of the machine, limits, habits and names need no new model."""
    assert build_model(SAME_MODEL[what](), folder).from_cache


def test_another_version_of_the_tool_builds_its_own(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A model built by other code is not used."""
    monkeypatch.setattr(model, "code_digest", lambda: "digest of other modules")
    assert not build_model(small_job(), folder).from_cache


@pytest.mark.parametrize("how", SPOILT)
def test_what_is_damaged_or_foreign_is_built_anew(
    folder: Path, how: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A spoilt file is neither believed nor run: the model is built again, and a sound one is kept in its place."""
    monkeypatch.chdir(tmp_path)
    path = kept_file(folder)
    path.write_bytes(SPOILT[how](path.read_bytes()))
    rebuilt = build_model(small_job(), folder)
    assert not rebuilt.from_cache
    assert same(rebuilt, fresh())
    assert not (tmp_path / "unpickled").exists()
    assert build_model(small_job(), folder).from_cache


def test_the_model_of_another_job_under_this_name_is_not_believed(folder: Path) -> None:
    """A sound file that belongs to another job (copied, renamed) is as foreign as any other."""
    path = kept_file(folder)
    build_model(small_job(at=320), folder)
    (other,) = set(folder.glob("*.npz")) - {path}
    shutil.copy(other, path)
    again = build_model(small_job(), folder)
    assert not again.from_cache
    assert same(again, fresh())


def test_a_sound_file_of_something_else_is_not_believed(folder: Path) -> None:
    """Arrays with a right digest that are no model are built anew too."""
    assert save_arrays(kept_file(folder), ARRAYS)
    again = build_model(small_job(), folder)
    assert not again.from_cache and same(again, fresh())


def test_no_single_flipped_bit_is_believed(tmp_path: Path) -> None:
    """Whichever bit of a file is flipped, the arrays are read as they were written or not at all."""
    path = tmp_path / "model.npz"
    assert save_arrays(path, ARRAYS)
    whole = path.read_bytes()
    for place in range(len(whole)):
        for bit in (1 << (place % 8), 1 << ((place + 3) % 8)):
            path.write_bytes(whole[:place] + bytes([whole[place] ^ bit]) + whole[place + 1 :])
            found = load_arrays(path)
            assert found is None or _equal(found, ARRAYS)


def test_no_cut_file_is_believed(tmp_path: Path) -> None:
    """Cut anywhere, a file is not read."""
    path = tmp_path / "model.npz"
    assert save_arrays(path, ARRAYS)
    whole = path.read_bytes()
    for length in range(len(whole)):
        path.write_bytes(whole[:length])
        assert load_arrays(path) is None


def _equal(found: dict[str, np.ndarray], expected: dict[str, np.ndarray]) -> bool:
    return found.keys() == expected.keys() and all(
        found[name].dtype == expected[name].dtype and np.array_equal(found[name], expected[name])
        for name in found
    )


def test_what_was_saved_is_read_back(tmp_path: Path) -> None:
    """Arrays come back with their values, shapes and types."""
    path = tmp_path / "deep" / "er" / "model.npz"
    assert save_arrays(path, ARRAYS)
    found = load_arrays(path)
    assert found is not None and _equal(found, ARRAYS)
    assert load_arrays(tmp_path / "none.npz") is None


def test_a_file_that_cannot_be_read_is_built_anew(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file without the right to read it does no harm."""

    def forbidden(*args: object, **kwargs: object) -> object:
        raise PermissionError(13, "Permission denied")

    # Whoever runs these tests may be allowed to read everything; so the refusal is made here.
    monkeypatch.setattr(store.np, "load", forbidden)
    again = build_model(small_job(), folder)
    assert not again.from_cache and same(again, fresh())


def test_a_folder_in_place_of_the_file_does_no_harm(folder: Path) -> None:
    """Where the file should be stands a folder: the model is built, and nothing is left beside it."""
    path = kept_file(folder)
    path.unlink()
    (path / "inside").mkdir(parents=True)
    before = set(folder.iterdir())
    again = build_model(small_job(), folder)
    assert not again.from_cache and same(again, fresh())
    assert set(folder.iterdir()) == before


@pytest.mark.parametrize("where", ["a file", "below a file", "/proc/axlewright"])
def test_a_folder_that_cannot_be_made_does_no_harm(tmp_path: Path, where: str) -> None:
    """A cache folder that is a file, or in a place that takes none: the model is built and not kept."""
    taken = tmp_path / "taken"
    taken.write_text("mine", encoding="utf-8")
    place = {"a file": taken, "below a file": taken / "models"}.get(where, Path(where))
    assert same(build_model(small_job(), place), fresh())
    assert taken.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("step", ["make", "write", "rename"])
def test_a_disk_that_refuses_does_no_harm(tmp_path: Path, step: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Read-only or full, at whichever step: the model is built, and no file is left behind, whole or in part."""

    def refuse(*args: object, **kwargs: object) -> object:
        raise OSError(28, "No space left on device")

    def half(file: io.BufferedWriter, **arrays: object) -> None:
        file.write(npz(**arrays)[:1000])
        raise OSError(28, "No space left on device")

    target = {
        "make": (store, "NamedTemporaryFile"),
        "write": (store.np, "savez"),
        "rename": (store.os, "replace"),
    }[step]
    monkeypatch.setattr(*target, half if step == "write" else refuse)
    built = build_model(small_job(), tmp_path / "models")
    assert not built.from_cache and same(built, fresh())
    monkeypatch.undo()
    assert list((tmp_path / "models").rglob("*")) == []
    assert not build_model(small_job(), tmp_path / "models").from_cache


def test_stopping_while_writing_leaves_nothing_a_reader_would_take(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed in the middle of writing, the file under the model's name is not there yet."""

    def killed(file: io.BufferedWriter, **arrays: object) -> None:
        file.write(npz(**arrays)[:1000])
        raise KeyboardInterrupt

    monkeypatch.setattr(store.np, "savez", killed)
    with pytest.raises(KeyboardInterrupt):
        build_model(small_job(), tmp_path)
    monkeypatch.undo()
    assert list(tmp_path.glob("*.npz")) == []
    assert not build_model(small_job(), tmp_path).from_cache


def test_writing_never_opens_the_name_a_reader_looks_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While arrays are written, the old file under the name is still whole; it is replaced in one step."""
    path = tmp_path / "model.npz"
    assert save_arrays(path, ARRAYS)

    def watched(file: io.BufferedWriter, **arrays: object) -> None:
        found = load_arrays(path)
        assert found is not None and _equal(found, ARRAYS)
        SAVEZ(file, **arrays)  # type: ignore[arg-type]

    monkeypatch.setattr(store.np, "savez", watched)
    assert save_arrays(path, {"compliance": np.zeros(3)})
    found = load_arrays(path)
    assert found is not None and list(found) == ["compliance"]
