"""Records to be archived: one that a shop would have, and any that could be."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import strategies as st

from axlewright.errors import RecordError
from axlewright.job.demo_jobs import demo_text
from axlewright.record.events import Document, NewEvent
from axlewright.record.opening import DATABASE, open_store
from axlewright.record.store import Store

PICTURE = Document("truss front.jpg", "image/jpeg", b"\xff\xd8 not much of a picture")
BEFORE = Document("readings.csv", "text/csv", b"station,value\n1,2\n")


def apart(folder: Path) -> Store:
    """A record in a SQLite file of its own, whichever database the test is on."""
    with pytest.MonkeyPatch.context() as patch:
        patch.delenv(DATABASE, raising=False)
        return open_store(folder)


def shop_job(store: Store, key: str = "k") -> str:
    """A job from its first file to a bead, a photograph, a note that was taken back, and one signature."""
    text = demo_text("truss-only").encode()
    told = datetime(2026, 3, 14, 13, 52, 30, tzinfo=UTC)
    job = store.create_job(
        NewEvent(
            "job file",
            "Ann",
            {"name": "Truss", "reference": "T-1", "units": "mm"},
            f"{key}1",
            (Document("job.toml", "application/toml", text),),
        )
    ).job
    new: tuple[tuple[str, dict[str, Any], dict[str, Any]], ...] = (
        ("readings", {"set": "before", "used": 12, "refused": 0}, {"documents": (BEFORE,)}),
        ("bench", {"event": "start", "bead": "A9"}, {"told_at": told.replace(minute=55)}),
        ("bench", {"event": "tacks done", "note": "three, then all round"}, {"told_at": told}),
        ("photograph", {"words": "the truss, fitted"}, {"documents": (PICTURE,)}),
        ("note", {"words": "=1+1"}, {}),
        ("withdrawal", {"words": "written by mistake"}, {"amends": 6}),
    )
    for number, (kind, body, more) in enumerate(new, start=2):
        store.append(job, NewEvent(kind, "Ben", body, f"{key}{number}", **more))
    return job


words = st.text(max_size=40)
names = st.one_of(
    st.text(max_size=300),
    st.sampled_from(
        ["", ".", "..", "../../x", "/etc/x", "C:\\x", "a/b", "NUL", "record.json", "x" * 300, "a\0b", "%2e"]
    ),
)
documents = st.builds(
    Document,
    name=names,
    media_type=st.sampled_from(["", "text/csv", "image/png"]),
    data=st.binary(max_size=60),
)
happened = st.one_of(
    st.none(), st.datetimes(datetime(1980, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC))
)
told = st.one_of(
    st.tuples(st.just("note"), st.fixed_dictionaries({"words": st.text(min_size=1, max_size=40)})),
    st.tuples(st.just("photograph"), st.fixed_dictionaries({"words": words})),
    st.tuples(
        st.just("bench"),
        st.fixed_dictionaries({"event": words, "bead": words, "value": words, "note": words}),
    ),
    st.tuples(
        st.just("plan"),
        st.fixed_dictionaries(
            {
                "stands_on": st.just({"job_file": 1}),
                "chosen": st.integers(0, 10**18),
                "recommended": st.none(),
                "beads": st.integers(0, 200),
                "bench_min": st.floats(allow_nan=False, allow_infinity=False),
            }
        ),
    ),
)
tellings = st.lists(
    st.tuples(told, words, st.lists(documents, max_size=3), happened, words), min_size=1, max_size=6
)


def kept_job(store: Store, many: Sequence[Any]) -> str:
    """A job of whatever was made up; what the record refuses is left out."""
    first = {"name": "any", "reference": "", "units": "mm"}
    job = store.create_job(NewEvent("job file", "Ann", first, uuid.uuid4().hex)).job
    for number, ((kind, body), who, brought, at, reason) in enumerate(many, start=1):
        with suppress(RecordError):
            store.append(job, NewEvent(kind, who, body, f"k{number}", tuple(brought), at, "", None, reason))
    return job
