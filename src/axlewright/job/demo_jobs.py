"""The invented demo jobs that come with the package."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable

from axlewright.errors import Fault, JobFileError


def _folder() -> Traversable:
    return files("axlewright.job").joinpath("demos")


def demo_names() -> tuple[str, ...]:
    """Names of the demo jobs, in alphabetical order."""
    entries = (entry.name for entry in _folder().iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in entries if name.endswith(".toml")))


def demo_text(name: str) -> str:
    """Text of a demo job file.

    Raises:
        JobFileError: no demo job has this name.
    """
    if name not in demo_names():
        known = ", ".join(demo_names())
        raise JobFileError(
            Fault("demo job", f'"{name}"', f"must be one of {known}", "Choose one of these names.")
        )
    return _folder().joinpath(f"{name}.toml").read_text(encoding="utf-8")


def demo_readings(name: str, which: str) -> str:
    """Straightness readings of a demo job, "before" or "after" welding, as CSV.

    Raises:
        JobFileError: this demo job has no such readings.
    """
    path = _folder().joinpath(f"{name}-{which}.csv")
    if which not in ("before", "after") or not path.is_file():
        known = ", ".join(
            sorted({e.name.rpartition("-")[0] for e in _folder().iterdir() if e.name.endswith(".csv")})
        )
        allowed = f"readings before and after come with {known}"
        raise JobFileError(
            Fault("readings of the demo job", f'"{name}"', allowed, "Choose one of these names.")
        )
    return path.read_text(encoding="utf-8")
