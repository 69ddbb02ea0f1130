"""Packages that fetch their names when they are asked for."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module

import pytest
from cli.said import environment

from axlewright.cli.main import SEARCH_SECONDS
from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.plan.search.search import SECONDS


@pytest.mark.parametrize("package", ["axlewright.tasks", "axlewright.sheets", "axlewright.cli.screens"])
def test_every_name_that_is_offered_is_there(package: str) -> None:
    """Each name in `__all__` is fetched from where it lives; another is no attribute."""
    module = import_module(package)
    for name in module.__all__:
        assert getattr(module, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        module.nothing  # noqa: B018


def test_a_check_of_straightness_waits_for_no_drawing(tmp_path) -> None:
    """Neither matplotlib nor typst nor the search is loaded by a check that writes nothing."""
    (tmp_path / "job.toml").write_text(demo_text("rescue-truck"), encoding="utf-8")
    (tmp_path / "after.csv").write_text(demo_readings("rescue-truck", "after"), encoding="utf-8")
    program = (
        "import sys; sys.argv = ['axlewright', 'straightness', 'job.toml', 'after.csv', '--json']\n"
        "from axlewright.cli.main import run\n"
        "try:\n    run()\nexcept SystemExit:\n    pass\n"
        "heavy = ('matplotlib', 'typst', 'scipy.optimize', 'scipy.spatial', 'axlewright.plan.search.search')\n"
        "sys.stderr.write(' '.join(name for name in heavy if name in sys.modules))"
    )
    command = [sys.executable, "-c", program]
    done = subprocess.run(command, cwd=tmp_path, env=environment(), capture_output=True, check=True)
    assert done.stdout.startswith(b"{")
    assert done.stderr.decode() == ""


def test_the_search_takes_as_long_as_the_command_line_says() -> None:
    """The command line names the longest search without loading it."""
    assert SEARCH_SECONDS == SECONDS
