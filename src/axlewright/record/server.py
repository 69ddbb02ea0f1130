"""The record in a PostgreSQL database."""

from __future__ import annotations

from sqlalchemy import URL, Engine, create_engine

from axlewright.errors import Fault, RecordError

PATIENCE_S = 5
"""How long to wait for the server to answer, or for another writer to let go of a job, in seconds."""


def server_engine(url: URL) -> Engine:
    """How a PostgreSQL database is opened.

    Raises:
        RecordError: the driver for it is not installed.
    """
    options = f"-c lock_timeout={PATIENCE_S}s -c timezone=UTC"
    asked = {"connect_timeout": str(PATIENCE_S), "options": options, **url.query}
    try:
        # A server that was started anew in the meantime costs one look, not one failed event.
        return create_engine(url.set(drivername="postgresql+psycopg", query=asked), pool_pre_ping=True)
    except ModuleNotFoundError as error:
        remedy = "Install it with: pip install 'axlewright[postgresql]', or take AXLEWRIGHT_DB away."
        raise RecordError(Fault("AXLEWRIGHT_DB", "", "psycopg is not installed", remedy)) from error
