"""A small job on disk, and a run of the command line in this process."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from reference import benches
from reference.jobs import PLAIN_TUBE, strip

from axlewright.cli.main import run


@dataclass(frozen=True)
class Said:
    """Exit code and what went to standard output and standard error."""

    code: int
    out: str
    err: str


Run = Callable[..., Said]


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    """A job of two short brackets, small enough to plan in a second."""
    brackets = strip("upper", at=300, length=100) + strip("lower", at=650, clock=6, length=100)
    path = tmp_path / "job.toml"
    path.write_text(PLAIN_TUBE.format(diameter=88.9, wall=9.5, extra=brackets), encoding="utf-8")
    return path


@pytest.fixture
def axle(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Run the command line as its entry point does; models are shared with the other tests, the shop is new."""
    monkeypatch.setenv("AXLEWRIGHT_CACHE", str(benches.CACHE[0]))
    monkeypatch.setenv("AXLEWRIGHT_SHOP", str(tmp_path / "shop.toml"))
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("FORCE_COLOR", raising=False)

    def call(*arguments: str) -> Said:
        monkeypatch.setattr(sys, "argv", ["axlewright", *arguments])
        capsys.readouterr()
        with pytest.raises(SystemExit) as stopped:
            run()
        told = capsys.readouterr()
        return Said(int(stopped.value.code or 0), told.out, told.err)

    return call
