"""A PostgreSQL server of its own for tests, from Debian's package; gone when they end."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg

USER, PASSWORD = "shop", "only for tests"


def programs() -> Path | None:
    """Folder of the newest installed server's programs; None where there is none."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/postgres"), key=lambda path: int(path.parts[-3]))
    if found:
        return found[-1].parent
    elsewhere = shutil.which("postgres")
    return None if elsewhere is None else Path(elsewhere).resolve().parent


class Server:
    """A running server.

    Args:
        folder: where its socket is.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._made = 0

    def url(self, database: str, user: str = USER, password: str = PASSWORD) -> str:
        """How AXLEWRIGHT_DB names one of its databases."""
        secret = password.replace(" ", "%20")
        return f"postgresql+psycopg://{user}:{secret}@/{database}?host={self.folder}"

    def new_database(self) -> str:
        """An empty place for a record, by its URL: a user with a schema of their own.

        A database each would be 300 files each, which take longer to remove than the tests to run.
        """
        self._made += 1
        user = f"shop_{self._made}"
        self.run(f"CREATE ROLE {user} SUPERUSER LOGIN PASSWORD '{PASSWORD}'")
        self.run(f"CREATE SCHEMA {user} AUTHORIZATION {user}")
        self.run(f"ALTER ROLE {user} SET search_path = {user}")
        return self.url("postgres", user)

    def run(self, statement: str) -> None:
        """Run a statement as the server's owner."""
        with psycopg.connect(
            host=str(self.folder), user=USER, password=PASSWORD, dbname="postgres", autocommit=True
        ) as connection:
            connection.execute(statement.encode())


@contextmanager
def running() -> Iterator[Server]:
    """A server that runs until the end of the block."""
    bin_folder = programs()
    assert bin_folder is not None
    # Not below pytest's own folder: the server runs as another user, and paths of sockets are short.
    folder = Path(tempfile.mkdtemp(prefix="shop-pg-"))
    owner = _somebody()
    if owner:
        shutil.chown(folder, owner)
    folder.chmod(0o700)
    try:
        process = _start(bin_folder, folder, owner)
        try:
            yield Server(folder)
        finally:
            # At once: nothing of this server is wanted any more.
            process.send_signal(signal.SIGQUIT)
            process.wait(20)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _somebody() -> str | None:
    """Whom the server runs as: it refuses to run as root."""
    return None if os.geteuid() != 0 else "postgres" if Path("/var/lib/postgresql").exists() else "nobody"


def _start(bin_folder: Path, folder: Path, owner: str | None) -> subprocess.Popen[bytes]:
    secret, data = folder / "password", folder / "data"
    secret.write_text(PASSWORD, encoding="utf-8")
    if owner:
        shutil.chown(secret, owner)
    make = ["initdb", "-D", data, "-U", USER, "-A", "scram-sha-256", "--pwfile", secret, "-E", "UTF8", "-N"]
    shared = {"user": owner, "cwd": folder, "stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE}
    environment = {"LC_ALL": "C", "PATH": os.environ["PATH"], "TZ": "UTC"}
    subprocess.run([bin_folder / make[0], *make[1:]], check=True, env=environment, **shared)
    serve = ["-D", data, "-k", folder, "-c", "listen_addresses=", "-c", "max_connections=60"]
    shared["stderr"] = subprocess.DEVNULL
    # Another time zone than the record's on purpose.
    process = subprocess.Popen(
        [*_not_alone(), bin_folder / "postgres", *serve, "-c", "timezone=Asia/Kathmandu"],
        env=environment,
        **shared,
    )
    until = time.monotonic() + 20
    while not (folder / ".s.PGSQL.5432").exists() or not _answers(folder):
        assert process.poll() is None and time.monotonic() < until, "PostgreSQL does not start"
        time.sleep(0.05)
    return process


def _not_alone() -> list[str]:
    """Where it can be had: the server ends with the tests that started it, also when they are killed."""
    program = shutil.which("setpriv")
    return [program, "--pdeathsig", "QUIT"] if program else []


def _answers(folder: Path) -> bool:
    try:
        psycopg.connect(host=str(folder), user=USER, password=PASSWORD, dbname="postgres").close()
    except psycopg.OperationalError:
        return False
    return True
