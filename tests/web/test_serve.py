"""The real server, as a process of its own."""

from __future__ import annotations

import socket
import subprocess
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from web.serving import serve_command

from axlewright.errors import OptionError
from axlewright.web.door.listening import listening_at


@pytest.fixture
def process(tmp_path: Path) -> Iterator[subprocess.Popen[str]]:
    """`axlewright serve` on a free port."""
    command = serve_command(tmp_path / "d")
    with subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        yield process
        process.kill()


def test_the_shop_opens_says_where_and_closes(process: subprocess.Popen[str], tmp_path: Path) -> None:
    """It prints its address, answers there, keeps its data in the folder it was given, and ends when it is asked to."""
    assert process.stderr is not None
    address = process.stderr.readline().split()[-1]
    assert address.startswith("http://localhost:")
    with urllib.request.urlopen(address, timeout=20) as answer:
        assert "The shop has no job yet" in answer.read().decode()
    assert (tmp_path / "d" / "axlewright.db").exists()
    process.terminate()
    assert process.wait(20) in (0, -15)


def test_only_this_machine_is_listened_to() -> None:
    """The socket is bound to this machine's own address."""
    with listening_at(0) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"


def test_a_port_that_is_taken_is_told_of() -> None:
    """A port that another program holds is refused with another to take."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        started = time.monotonic()
        with pytest.raises(OptionError, match=f"--port {port + 1}"):
            listening_at(port)
        assert time.monotonic() - started < 5
