"""Blank measuring sheets to print, made in a process of their own: what draws and prints stays out of the server.

`python -m axlewright.tasks.blank_sheets JOB.toml FOLDER` writes them for one job.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import threading
from collections import OrderedDict
from pathlib import Path
from typing import Literal

from axlewright import tasks
from axlewright.errors import Fault, OutputError, WorkError
from axlewright.job.reading import read_job

Paper = Literal["a4", "us-letter"]

_PAPERS: tuple[Paper, ...] = ("a4", "us-letter")
_MOST_KEPT = 12
_PATIENCE = 120.0
"""An old laptop takes some ten seconds; beyond this something hangs [s]."""

_kept: OrderedDict[tuple[str, Paper], bytes] = OrderedDict()
_making = threading.Lock()


def blank_sheet(job_text: str, digest: str, paper: Paper) -> bytes:
    """A blank measuring sheet of a job as PDF; made once for each job file.

    Args:
        job_text: text of the job file.
        digest: of that text, by which sheets made before are found.
        paper: "a4" or "us-letter".

    Raises:
        WorkError: it could not be made.
        OutputError: there is no room for it.
    """
    # One after the other: whoever asks for the second paper of a job finds it made.
    with _making:
        if (digest, paper) not in _kept:
            for one, data in _made(job_text).items():
                _kept[digest, one] = data
            while len(_kept) > _MOST_KEPT:
                _kept.popitem(last=False)
        _kept.move_to_end((digest, paper))
        return _kept[digest, paper]


def _made(job_text: str) -> dict[Paper, bytes]:
    try:
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            (folder / "job.toml").write_text(job_text, encoding="utf-8")
            command = [sys.executable, "-m", "axlewright.tasks.blank_sheets", str(folder / "job.toml"), name]
            done = subprocess.run(command, capture_output=True, timeout=_PATIENCE, check=False)
            if done.returncode == 0:
                return {paper: (folder / f"measuring-sheet-{paper}.pdf").read_bytes() for paper in _PAPERS}
    except subprocess.TimeoutExpired as error:
        raise _not_made("it took too long") from error
    except OSError as error:
        allowed = f"needs room for temporary files ({error.strerror or error})"
        raise OutputError(Fault("measuring sheet", "", allowed, "Make room, then ask again.")) from error
    raise _not_made(done.stderr.decode("utf-8", "replace").strip().splitlines()[-1:] or "no reason given")


def _not_made(why: object) -> WorkError:
    said = why[0] if isinstance(why, list) else str(why)
    return WorkError(
        Fault("measuring sheet", "", f"could not be made: {said}", "Check the dimensions of the job.")
    )


if __name__ == "__main__":
    tasks.write_form(read_job(sys.argv[1]), Path(sys.argv[2]))
