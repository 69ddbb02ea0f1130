"""Records on both databases; those on PostgreSQL share one server, and one test worker."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import postgresql_server
import pytest

from axlewright.record.opening import DATABASE, open_store
from axlewright.record.store import Store


@pytest.fixture(scope="session")
def postgresql() -> Iterator[postgresql_server.Server]:
    """A PostgreSQL server, where it is installed."""
    if postgresql_server.programs() is None:
        pytest.skip("PostgreSQL is not installed (Debian package postgresql)")
    with postgresql_server.running() as server:
        yield server


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.xdist_group("postgresql"))])
def database(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """The kind of an empty database that `open_store` will open."""
    if request.param == "postgresql":
        monkeypatch.setenv(DATABASE, request.getfixturevalue("postgresql").new_database())
    else:
        monkeypatch.delenv(DATABASE, raising=False)
    return str(request.param)


@pytest.fixture
def store(database: str, tmp_path: Path) -> Iterator[Store]:
    """An empty record, on each kind of database."""
    opened = open_store(tmp_path)
    yield opened
    opened.close()
