"""The form a page asks straightness readings with: the blank form of a job, group by group and place by place."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

from axlewright.errors import Fault
from axlewright.job.schema import Job
from axlewright.straightness.readings.blank import blank_csv
from axlewright.straightness.readings.table import MEASURED

_PLACE = ("kind", "at", "side", "end", "sense", "distance")
_BEFORE_ONLY = "before welding only"
_OF_THE_FILE = "as kind"
"""Words of a sentence that tells how to write the file; a page has a group of its own for that."""
_TABLES = tomllib.loads(files("axlewright.tasks").joinpath("measuring.toml").read_text(encoding="utf-8"))


@dataclass(frozen=True)
class Column:
    """A column of readings: what is said of it, the quantity it holds ("" for words), the words to choose from."""

    name: str
    says: str
    quantity: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Kind:
    """A kind of reading: columns that say where, that hold what is measured, and that it may have besides."""

    name: str
    title: str
    how: str
    place: tuple[str, ...]
    measured: tuple[str, ...]
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class PlaceRow:
    """A line of the form: its cells, whether the place is given by the form, and what is wrong with it.

    Args:
        cells: what stands in it by column.
        given: whether its place comes from the blank form.
        hint: what the form notes beside it.
        usual_setup: name that the form gives its set-up.
        line: its line in the text it came from; 0 where it comes from the blank form.
        faults: why it cannot be used.
    """

    cells: Mapping[str, str]
    given: bool = False
    hint: str = ""
    usual_setup: str = ""
    line: int = 0
    faults: tuple[Fault, ...] = ()

    @property
    def filled(self) -> bool:
        """Whether anything was typed into it."""
        return any(self.cells.get(column) for column in (*MEASURED, "error", "note"))


@dataclass(frozen=True)
class Group:
    """Lines taken in one way: its name, kind, heading, how it is done, and the lines."""

    name: str
    kind: str
    title: str
    how: tuple[str, ...]
    rows: tuple[PlaceRow, ...]


@cache
def kinds() -> Mapping[str, Kind]:
    """Kinds of readings by their word."""
    return {
        name: Kind(
            name,
            one["title"],
            one.get("how", ""),
            tuple(one["place"]),
            tuple(one["measured"]),
            tuple(one.get("also", ())),
        )
        for name, one in _TABLES["kind"].items()
    }


@cache
def columns() -> Mapping[str, Column]:
    """Columns of readings by their name."""
    return {
        name: Column(name, one["says"], one.get("quantity", ""), tuple(one.get("choices", ())))
        for name, one in _TABLES["column"].items()
    }


def blank_groups(job: Job, which: str) -> tuple[Group, ...]:
    """The blank form of a job as groups of lines; after the work without places that are then covered.

    Args:
        job: the job.
        which: "before" or "after".
    """
    found: list[Group] = []
    title: list[str] = []
    heading: list[str] | None = None
    for line in blank_csv(job).splitlines():
        if line.startswith("# "):
            title.append(line[2:])
        elif heading is None:
            heading, title = line.split(","), []
        else:
            row = _blank_row(heading, line)
            if title:
                found.append(_begun(title, row))
                title = []
            if which == "before" or row.hint != _BEFORE_ONLY:
                found[-1] = replace(found[-1], rows=(*found[-1].rows, row))
    present = {group.kind for group in found}
    others = (kind for kind in kinds().values() if kind.name not in present)
    return (*found, *(Group(kind.name, kind.name, kind.title, (kind.how,), ()) for kind in others))


def _blank_row(heading: list[str], line: str) -> PlaceRow:
    cells = {name: cell for name, cell in zip(heading, line.split(","), strict=True) if cell}
    return PlaceRow(cells, True, cells.pop("note", ""), cells.get("setup", ""))


def _begun(title: list[str], row: PlaceRow) -> Group:
    """A group by its heading, "QUICKEST FOR CAMBER: angle finder ..." and what follows."""
    head, _, first = title[0].partition(": ")
    how = [first[:1].upper() + first[1:], *title[1:]]
    said = tuple(line for line in how if _OF_THE_FILE not in line)
    return Group(group_of(row.cells), row.cells["kind"], head.capitalize(), said, ())


def group_of(cells: Mapping[str, str]) -> str:
    """Name of the group a line belongs to; "other" where its kind is not known."""
    kind, side, sense = (
        " ".join(cells.get(column, "").casefold().split()) for column in ("kind", "side", "sense")
    )
    kind = kind.replace(" ", "-").replace("_", "-")
    if kind == "string":
        return "string-bottom" if side in ("top", "bottom") else "string-front"
    if kind == "angle":
        return {"toe": "angle-toe", "level on side": "angle-toe", "caster": "angle-caster"}.get(
            sense, "angle-camber"
        )
    return kind if kind in kinds() else "other"


def filled_form(blank: Sequence[Group], rows: Iterable[PlaceRow]) -> tuple[Group, ...]:
    """The blank form with lines put into their places; lines without a place follow in the group they belong to."""
    groups = {group.name: list(group.rows) for group in blank}
    for row in rows:
        own = groups.setdefault(group_of(row.cells), [])
        free = (n for n, place in enumerate(own) if place.given and not place.filled and not place.line)
        same = next((n for n in free if _place(own[n].cells) == _place(row.cells)), None)
        if same is None:
            own.append(replace(row, given=False))
        else:
            own[same] = replace(row, given=True, hint=own[same].hint, usual_setup=own[same].usual_setup)
    other = groups.pop("other", [])
    done = [replace(group, rows=tuple(groups[group.name])) for group in blank]
    if other:
        done.append(Group("other", "", "Lines whose kind is not known", (), tuple(other)))
    return tuple(done)


def _place(cells: Mapping[str, str]) -> tuple[str, ...]:
    """What tells one place from another, a number as a number."""
    return tuple(_plain(cells.get(column, "")) for column in _PLACE)


def _plain(cell: str) -> str:
    try:
        return repr(float(cell))
    except ValueError:
        return " ".join(cell.casefold().split())
