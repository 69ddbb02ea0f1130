"""From what the reader and the checks find to messages in the user's words."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, get_args

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from axlewright.errors import Fault, GeometryError, JobFileError
from axlewright.job.fields import Record
from axlewright.job.lines import Path, line_of
from axlewright.job.schema import Job
from axlewright.units import show

MOST_FAULTS = 20
"""More than a screen of messages helps nobody."""


@dataclass(frozen=True)
class Misfit:
    """Something wrong at one place of the job: `path` as in the file, list entries counted from 0.

    `root` is the whole file's model, where it is no job file.
    """

    path: Path
    value: str
    allowed: str
    remedy: str
    root: type[Record] = Job

    def fault(self, source: str, text: str = "") -> Fault:
        """The message, with the line where the file's text is known."""
        line = line_of(text, self.path)
        where = f"{source} line {line}" if line else source
        return Fault(f"{where}: {place(self.path, self.root)}", self.value, self.allowed, self.remedy)


def faults_of(
    misfits: Sequence[Misfit], source: str, text: str, count: int | None = None
) -> tuple[Fault, ...]:
    """The messages of the first misfits, and how many more there are (of `count`, if not all are given)."""
    faults = [misfit.fault(source, text) for misfit in misfits[:MOST_FAULTS]]
    more = (len(misfits) if count is None else count) - len(faults)
    if more > 0:
        faults.append(Fault(source, "", f"{more} more faults follow", "Mend these first, then run again."))
    return tuple(faults)


def from_validation(
    error: ValidationError, source: str, text: str, root: type[Record] = Job
) -> JobFileError | GeometryError:
    """The error to raise for what the model of a file, a job unless told otherwise, refused."""
    details = _without_echoes(error.errors(include_url=False), root)
    # Past a screen of messages only their number counts.
    found = _misfits(details[: MOST_FAULTS + 1], root)
    faults = faults_of(found, source, text, len(details))
    only_misfits = all(detail["type"] == "misfit" for detail in details)
    return GeometryError(*faults) if only_misfits else JobFileError(*faults)


def refusals(error: ValidationError, root: type[Record] = Job) -> list[Misfit]:
    """All that the model refused, each with its place, for a form that shows every message at its field."""
    return _misfits(_without_echoes(error.errors(include_url=False), root), root)


def _misfits(details: Sequence[Any], root: type[Record]) -> list[Misfit]:
    return [replace(_misfit(detail, root), root=root) for detail in details]


def place(path: Path, root: type[Record] = Job) -> str:
    """A path in words: "thickness in [[truss]] no. 2", "top (entry 1, number 2) in [[truss]] no. 1"."""
    names = [n for n, part in enumerate(path) if isinstance(part, str)]
    last = names[-1] if names else 0
    if _is_table(path, root) and (isinstance(path[-1], int) or len(names) == len(path)):
        return _table(path)
    if last == 0:
        return str(path[0]) if path else "the file"
    numbers = [int(part) + 1 for part in path[last + 1 :]]
    entry = f" ({', number '.join(['entry ' + str(numbers[0]), *map(str, numbers[1:])])})" if numbers else ""
    return f"{path[last]}{entry} in {_table(path[:last])}"


def _is_table(path: Path, root: type[Record]) -> bool:
    return bool(path) and record_at(path, root) is not None


def _table(path: Path) -> str:
    """A table as it is headed in the file."""
    dotted = ".".join(part for part in path if isinstance(part, str))
    numbers = [part for part in path if isinstance(part, int)]
    return f"[[{dotted}]] no. {numbers[-1] + 1}" if numbers else f"[{dotted}]"


def record_at(path: Path, root: type[Record] = Job) -> type[Record] | None:
    """The table's model at a path, None where the path leads to a plain value."""
    record: type[Record] | None = root
    for part in path:
        if isinstance(part, int) or record is None:
            continue
        field = _fields(record).get(part)
        record = _record_in(field.annotation) if field else None
    return record


def _fields(record: type[Record]) -> dict[str, FieldInfo]:
    """A table's keys by the name they have in the file."""
    return {str(field.validation_alias or name): field for name, field in record.model_fields.items()}


def _record_in(annotation: Any) -> type[Record] | None:
    """The table's model inside a type such as tuple[Annotated[Truss, ...], ...]."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        return annotation
    return next((found for inner in get_args(annotation) if (found := _record_in(inner))), None)


def _misfit(detail: Mapping[str, Any], root: type[Record]) -> Misfit:
    """One refusal of the model in the user's words."""
    path: Path = tuple(detail["loc"])
    kind, context = detail["type"], detail.get("ctx", {})
    if kind in ("job_file", "misfit"):
        path = (*path, *context["key"].split(".")) if context["key"] else path
        return Misfit(path, context["value"], context["allowed"], context["remedy"])
    if kind == "missing":
        meaning = _meaning(path, root)
        return Misfit(path, "missing", "this key is needed", f"Add it: {meaning[:1].lower()}{meaning[1:]}")
    if kind == "extra_forbidden":
        return _unknown_key(path, root)
    return _wrong_type(path, kind, detail, root)


def _wrong_type(path: Path, kind: str, detail: Mapping[str, Any], root: type[Record]) -> Misfit:
    """A value of the wrong type, out of a list of words, or out of bounds."""
    value = show(detail["input"])
    record = record_at(path, root)
    if kind in ("too_long", "too_short"):
        bound = detail["ctx"].get("max_length") or detail["ctx"].get("min_length")
        limit = "at most" if kind == "too_long" else "at least"
        entries = "entry" if bound == 1 else "entries"
        return Misfit(path, value, f"must have {limit} {bound} {entries}", _meaning(path, root))
    if kind == "tuple_type" and record is not None:
        name = ".".join(part for part in path if isinstance(part, str))
        return Misfit(path, value, "may stand several times", f"Head it with double brackets: [[{name}]].")
    if record is not None:
        return Misfit(path, value, "must be a table", f"Write a line {_table(path)} and its keys below it.")
    if kind == "literal_error":
        return Misfit(path, value, f"must be {_choices(detail['ctx']['expected'])}", _meaning(path, root))
    message = str(detail["msg"]).removeprefix("Input ").removeprefix("Value ")
    plain = {
        "a valid tuple": "a list",
        "a valid string": "text in quotation marks",
        "a valid boolean": "true or false",
        "should": "must",
    }
    for word, instead in plain.items():
        message = message.replace(word, instead)
    return Misfit(path, value, message, _meaning(path, root))


def _choices(expected: str) -> str:
    """The words to choose from, in the file's quotation marks."""
    return expected.replace("'", '"')


def _without_echoes(details: Sequence[Any], root: type[Record]) -> list[Any]:
    """The refusals without the missing key that a misspelt one explains, and the entry that a wrong one does."""
    wrong = {tuple(detail["loc"][:-1]) for detail in details if detail["loc"]}
    details = [d for d in details if d["type"] != "too_short" or tuple(d["loc"]) not in wrong]
    unknown = [tuple(detail["loc"]) for detail in details if detail["type"] == "extra_forbidden"]
    meant = {(*path[:-1], _nearest(path, root)) for path in unknown[:MOST_FAULTS]}
    return [d for d in details if d["type"] != "missing" or tuple(d["loc"]) not in meant]


def _nearest(path: Path, root: type[Record]) -> str | None:
    """The known key that an unknown one resembles most."""
    known = _fields(record_at(path[:-1], root) or root)
    return next(iter(difflib.get_close_matches(str(path[-1]), known, n=1, cutoff=0.5)), None)


def _unknown_key(path: Path, root: type[Record]) -> Misfit:
    """A key that the table does not have, with the nearest one it has."""
    near = _nearest(path, root)
    known = ", ".join(sorted(_fields(record_at(path[:-1], root) or root)))
    remedy = f'Did you mean "{near}"?' if near else f"Known here: {known}."
    shown = (*path[:-1], show(str(path[-1])).strip('"'))
    return Misfit(shown, "", "no such key", remedy)


def _meaning(path: Path, root: type[Record]) -> str:
    """What the key is for."""
    last = max((n for n, part in enumerate(path) if isinstance(part, str)), default=0)
    field = _fields(record_at(path[:last], root) or root).get(str(path[last]) if path else "")
    meaning = (field.description if field else None) or "See the manual of the job file."
    return " ".join(meaning.split())
