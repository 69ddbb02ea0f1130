"""Text as TOML, with one clear error where it is none; whatever file it comes from."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from axlewright.errors import AxlewrightError, Fault

SECTIONS = 'A line reads key = 12.5 or key = "text"; sections are headed [section].'
"""What a line of a file with sections looks like."""

_PLACE = re.compile(r"\s*\(at (?:line ([0-9]+), column ([0-9]+)|end of document)\)$")


def toml_tables(
    text: str,
    source: str,
    error: type[AxlewrightError],
    remedy: str,
    nested: str = "Check for a bracket too many.",
) -> dict[str, Any]:
    """Tables of a text.

    Args:
        text: of the file.
        source: name of the file, for messages.
        error: what is raised.
        remedy: what a line looks like.
        nested: what to do where brackets are nested too deeply.

    Raises:
        AxlewrightError: of the given type; the text is not TOML.
    """
    try:
        return tomllib.loads(text)
    except RecursionError as deep:
        raise error(Fault(source, "", "brackets are nested too deeply", nested)) from deep
    except ValueError as wrong:
        place = _PLACE.search(str(wrong))
        where = f"{source} line {place[1]}, column {place[2]}" if place and place[1] else source
        reason = "".join(mark if mark.isprintable() else "?" for mark in _PLACE.sub("", str(wrong)))[:200]
        raise error(Fault(where, "not TOML", reason[:1].lower() + reason[1:], remedy)) from wrong
