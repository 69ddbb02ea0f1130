"""The command that serves a shop, as people give it."""

from __future__ import annotations

import sys
from pathlib import Path


def serve_command(data: Path) -> list[str]:
    """`axlewright serve` from a data folder, at any free port and without a browser."""
    serve = [sys.executable, "-m", "axlewright", "serve", "--port", "0", "--no-browser"]
    return [*serve, "--data", str(data)]
