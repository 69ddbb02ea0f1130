"""Opening a record: where it is, and that it is sound and of this version."""

from __future__ import annotations

import os
from pathlib import Path

from sqlalchemy import create_engine

from axlewright.record import tables
from axlewright.record.store import Store

DATABASE = "AXLEWRIGHT_DB"
"""Names another database than the SQLite file in the data folder, e.g. postgresql+psycopg://..."""

FILE_NAME = "axlewright.db"


def open_store(folder: Path) -> Store:
    """The record in a data folder, or in the database that AXLEWRIGHT_DB names; made where there is none.

    Raises:
        RecordError: it cannot be opened, or is of another version that cannot be brought up to date.
        DamagedRecordError: it is damaged.
    """
    folder.mkdir(parents=True, exist_ok=True)
    engine = create_engine(os.environ.get(DATABASE) or f"sqlite:///{folder / FILE_NAME}")
    tables.metadata.create_all(engine)
    return Store(engine)
