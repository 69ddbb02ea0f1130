"""Running the command line as a shop does, and what it says."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]

NO_SHOP = str(ROOT / "tests" / "no-shop.toml")
"""A shop file that is not there, so that a test never reads the results of whoever runs it."""


def environment(**more: str) -> dict[str, str]:
    """This process's environment with the package in its path and no wish for colour."""
    kept = {key: value for key, value in os.environ.items() if key not in ("FORCE_COLOR", "COLUMNS")}
    return {
        **kept,
        "PYTHONPATH": str(ROOT / "src"),
        "OMP_NUM_THREADS": "1",
        "AXLEWRIGHT_SHOP": NO_SHOP,
        **more,
    }


PATIENCE = 600.0
"""No command takes longer, on the slowest machine [s]; one that waits for ever must not hold up all tests."""


def axlewright(*arguments: str, cwd: Path, **more: str) -> subprocess.CompletedProcess[bytes]:
    """One run of the program, its output in pipes."""
    command = [sys.executable, "-m", "axlewright", *arguments]
    return subprocess.run(
        command, cwd=cwd, env=environment(**more), capture_output=True, check=False, timeout=PATIENCE
    )


def files_below(folder: Path) -> set[str]:
    """Names of all files under a folder."""
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}
