"""The tables of an archive that a person reads: events.csv and bead-log.csv."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from axlewright.record.events import Event

EVENT_COLUMNS = (
    "number",
    "written down (UTC)",
    "happened (UTC)",
    "who",
    "kind",
    "words",
    "amends",
    "reason",
    "documents",
    "device",
)
LOG_COLUMNS = ("time", "event", "bead", "from", "to", "what", "value", "error", "note")
"""Columns of a bead log, as docs/bead-log.md has them."""

Told = Mapping[str, Any]


def events_csv(events: Iterable[Event]) -> str:
    """Every event, a line each."""
    rows = (
        (
            event.number,
            f"{event.at:%Y-%m-%d %H:%M:%S}",
            f"{event.told_at:%Y-%m-%d %H:%M:%S}",
            event.who,
            event.kind,
            words_of(event),
            event.amends or "",
            event.reason,
            "; ".join(line.name for line in event.documents),
            event.device,
        )
        for event in events
    )
    return _table(EVENT_COLUMNS, ([_no_formula(_one_line(cell)) for cell in row] for row in rows))


def bead_log_csv(events: Iterable[Event]) -> str:
    """What was done at the bench and still counts, as a bead log that `axlewright replan` reads.

    Args:
        events: those that count; the log has them in order of the time they happened, as it must.
    """
    bench = sorted((e for e in events if e.kind == "bench"), key=lambda e: (e.told_at, e.number))
    rows = (
        (f"{event.told_at:%Y-%m-%d %H:%M:%S}", *(_one_line(event.body.get(key, "")) for key in _LOG_CELLS))
        for event in bench
    )
    return _table(LOG_COLUMNS, rows)


_LOG_CELLS = ("event", "bead", "start", "end", "what", "value", "error", "note")


def words_of(event: Event) -> str:
    """What an event tells, in a line."""
    tell = _WORDS.get(event.kind)
    return "" if tell is None else _one_line(tell(event.body))


def _joined(*parts: Any) -> str:
    return ", ".join(str(part) for part in parts if part not in (None, ""))


def _bench(body: Told) -> str:
    return " ".join(str(body[key]) for key in _LOG_CELLS if body.get(key))


def _signed(body: Told) -> str:
    items = body.get("items") or ()
    found = sum(bool(item["found"]) for item in items)
    return _joined(body.get("hold_point"), f"{found} of {len(items)} lines found so", body.get("note"))


def _stage(body: Told) -> str:
    return _joined(
        f"{body.get('stage')} {'done' if body.get('done') else 'taken up again'}", body.get("note")
    )


def _readings(body: Told) -> str:
    return f"{body.get('set')}: {body.get('used')} used, {body.get('refused')} refused"


def _plan(body: Told) -> str:
    return _joined(f"{body.get('beads')} beads", f"{body.get('bench_min')} min", body.get("words"))


_WORDS: dict[str, Callable[[Told], str]] = {
    "job file": lambda body: _joined(body.get("name"), body.get("reference")),
    "readings": _readings,
    "check": lambda body: _joined(body.get("answer"), body.get("words")),
    "plan": _plan,
    "correction": lambda body: _joined(body.get("decision"), body.get("recommended"), body.get("words")),
    "bench": _bench,
    "set-up reading": lambda body: _joined(f"{body.get('what')} {body.get('value')}", body.get("note")),
    "sign-off": _signed,
    "stage": _stage,
    "photograph": lambda body: str(body.get("words", "")),
    "note": lambda body: str(body.get("words", "")),
    "withdrawal": lambda body: str(body.get("words", "")),
}


def _one_line(cell: Any) -> str:
    return " ".join(str(cell).split())


def _no_formula(cell: str) -> str:
    """A cell that a spreadsheet does not take for a formula, whoever wrote it."""
    return f"'{cell}" if cell[:1] in ("=", "+", "-", "@") else cell


def _table(columns: tuple[str, ...], rows: Iterable[Iterable[Any]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return text.getvalue()
