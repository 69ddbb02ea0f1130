"""On which line of a TOML file a key stands, for error messages.

TOML readers do not keep positions. Tables and keys of a job file begin a line each, so one pass over the
text finds them. The result is used in messages only: where it knows nothing, it says nothing.
"""

from __future__ import annotations

import re
from functools import lru_cache

Path = tuple[str | int, ...]

_HEADER = re.compile(r"\s*(\[\[?)([^\[\]]+)\]")
_KEY = re.compile(
    r"""\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'))*)\s*="""
)


def line_of(text: str, path: Path) -> int | None:
    """Line, counted from 1, of the key at `path` or of the nearest table around it."""
    lines = _index(text)
    return next((lines[path[:n]] for n in range(len(path), 0, -1) if path[:n] in lines), None)


@lru_cache(maxsize=1)
def _index(text: str) -> dict[Path, int]:
    """Line of every table and key; an entry of [[array]] has its number, counted from 0, in the path."""
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    inside_text = False
    for number, line in enumerate(text.splitlines(), start=1):
        if not inside_text:
            if header := _HEADER.match(line):
                table = _enter(header.group(2), header.group(1) == "[[", counts)
                lines.setdefault(table, number)
            elif key := _KEY.match(line):
                lines.setdefault((*table, *_parts(key.group(1))), number)
        inside_text ^= (line.count('"""') + line.count("'''")) % 2 == 1
    return lines


def _parts(dotted: str) -> list[str]:
    """Names of a dotted key, without quotes."""
    return [part.strip().strip("\"'") for part in dotted.split(".")]


def _enter(dotted: str, is_array: bool, counts: dict[Path, int]) -> Path:
    """Path of the table that a header opens."""
    path: Path = ()
    for part in _parts(dotted)[:-1]:
        path = (*path, part)
        path = (*path, counts[path]) if path in counts else path
    path = (*path, _parts(dotted)[-1])
    if not is_array:
        return path
    counts[path] = counts.get(path, -1) + 1
    return (*path, counts[path])
