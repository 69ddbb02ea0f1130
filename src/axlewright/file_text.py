"""Bytes of a file as text, with one clear error where they are none; whatever file they come from."""

from __future__ import annotations

from axlewright.errors import AxlewrightError, Fault

IN_AN_EDITOR = "Save it as UTF-8 in your editor."


def utf8_text(
    data: bytes, source: str, error: type[AxlewrightError], what: str, remedy: str = IN_AN_EDITOR
) -> str:
    """Text of UTF-8 bytes; a byte order mark, as some editors write it, is dropped.

    Args:
        data: of the file.
        source: name of the file, for messages.
        error: what is raised.
        what: what the file is, e.g. "a job file".
        remedy: how to save it.

    Raises:
        AxlewrightError: of the given type; the bytes are not UTF-8.
    """
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        where = f"{source} line {data.count(bytes([10]), 0, wrong.start) + 1}"
        raise error(Fault(where, "not UTF-8 text", f"{what} is UTF-8", remedy)) from wrong
