"""The text of a job file for what a form tells: written anew, or changed only where something was changed."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit.items import AoT, Table
from tomlkit.toml_document import TOMLDocument

from axlewright.errors import Fault, JobFileError
from axlewright.file_text import utf8_text
from axlewright.job.demo_jobs import demo_names, demo_text
from axlewright.job.reading import LARGEST_FILE

_COMMENT = re.compile(r"^[^\"'#]*(?:\"[^\"]*\"[^\"'#]*|'[^']*'[^\"'#]*)*#", re.MULTILINE)


def tables_of(text: str) -> dict[str, Any]:
    """Tables of the text of a job file that was read before."""
    return tomllib.loads(text)


def has_comments(text: str) -> bool:
    """Whether a text carries comments."""
    return _COMMENT.search(text) is not None


def written_anew(tree: Mapping[str, Any]) -> str:
    """Text of a job file with these tables, as they were typed."""
    return tomlkit.dumps(_values_first(tree))


def written_over(
    text: str, tree: Mapping[str, Any], as_typed: Callable[[Mapping[str, Any]], Mapping[str, Any]]
) -> tuple[str, bool]:
    """Text of a job file with these tables, and whether the comments of the text before are kept.

    Only what was changed is changed in the text, unless its numbers are in the other system now: comments that name
    units would then be wrong.

    Args:
        text: of the job file before.
        tree: tables it shall have.
        as_typed: tables of a file as they would be if they were typed, where 16 and "16" are one.
    """
    before = as_typed(tomllib.loads(text))
    if before.get("units") == tree.get("units"):
        document = tomlkit.parse(text)
        _change(document, before, tree)
        changed = tomlkit.dumps(document)
        # The library keeps a text's layout; whether it also says what it shall is looked at once more.
        if _reads_as(changed, tree, as_typed):
            return changed, True
    return written_anew(tree), not has_comments(text)


def demo_titles() -> dict[str, str]:
    """The demo jobs by name, and what each is called."""
    return {name: str(tomllib.loads(demo_text(name))["job"]["name"]) for name in demo_names()}


def uploaded_job_text(data: bytes, source: str) -> str:
    """Text of an uploaded job file.

    Raises:
        JobFileError: it is larger than 1 MB, or not UTF-8.
    """
    if len(data) > LARGEST_FILE:
        allowed, remedy = "a job file is a page or two of text", "Is it the right file?"
        raise JobFileError(Fault(source, "larger than 1 MB", allowed, remedy))
    return utf8_text(data, source, JobFileError, "a job file")


def _reads_as(
    text: str, tree: Mapping[str, Any], as_typed: Callable[[Mapping[str, Any]], Mapping[str, Any]]
) -> bool:
    try:
        return as_typed(tomllib.loads(text)) == tree
    except tomllib.TOMLDecodeError:
        return False


def _values_first(tree: Mapping[str, Any]) -> dict[str, Any]:
    """Tables after plain values, as TOML wants them."""
    plain = {key: _inner(value) for key, value in tree.items()}
    return dict(sorted(plain.items(), key=lambda item: _is_table(item[1])))


def _inner(value: Any) -> Any:
    if isinstance(value, Mapping):
        return _values_first(value)
    return [_inner(one) for one in value] if isinstance(value, list) else value


def _is_table(value: Any) -> bool:
    return isinstance(value, Mapping) or (
        isinstance(value, list) and bool(value) and isinstance(value[0], Mapping)
    )


def _change(document: TOMLDocument | Table, before: Mapping[str, Any], after: Mapping[str, Any]) -> None:
    """Bring a table of the document from what it says to what it shall say."""
    for key in [key for key in before if key not in after]:
        document.remove(key)
    for key, value in after.items():
        if key not in before:
            document[key] = _inner(value)
        elif before[key] != value or type(before[key]) is not type(value):
            inner = document[key]
            if isinstance(inner, Table) and isinstance(value, Mapping):
                _change(inner, before[key], value)
            elif isinstance(inner, AoT) and isinstance(value, list):
                _change_several(inner, before[key], value)
            else:
                document[key] = _inner(value)


def _change_several(
    tables: AoT, before: Sequence[Mapping[str, Any]], after: Sequence[Mapping[str, Any]]
) -> None:
    """Entries that went are taken out by name, the others changed where they stand, new ones added at the end."""
    left = list(before)
    names = {entry.get("name") for entry in after}
    for n in reversed(range(len(left))):
        if len(left) > len(after) and left[n].get("name") not in names:
            del tables[n]
            del left[n]
    while len(left) > len(after):
        del tables[len(left) - 1]
        left.pop()
    for n, entry in enumerate(after):
        if n < len(left):
            _change(tables[n], left[n], entry)
        else:
            added = tomlkit.table()
            added.update(_values_first(entry))
            tables.append(added)
