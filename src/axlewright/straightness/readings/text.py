"""The text of a file that a spreadsheet, an editor or a phone has written."""

from __future__ import annotations

from pathlib import Path

from axlewright.errors import Fault, ReadingsError
from axlewright.units import show

LARGEST_FILE = 1_000_000
"""Size in bytes above which a file is not looked at; a thorough check of a housing has ten thousand."""

_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


def text_of(path: Path) -> str:
    """The text in a file.

    Raises:
        ReadingsError: there is no such file, or it is no text of a sensible size.
    """
    source = show(str(path)).strip('"')
    try:
        if path.is_dir() or (path.exists() and not path.is_file()):
            raise ReadingsError(
                Fault(source, "no ordinary file", "readings are a CSV or TOML file", "Name the file itself.")
            )
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except FileNotFoundError as error:
        raise ReadingsError(
            Fault(source, "not there", "the file of readings must exist", "Check the name.")
        ) from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise ReadingsError(
            Fault(source, "unreadable", reason, "Check the name and the rights to read it.")
        ) from error
    return decoded(data, source)


def decoded(data: bytes, source: str) -> str:
    """The text of bytes: UTF-8, UTF-16 with its mark, or what Western spreadsheets write without one (cp1252).

    Raises:
        ReadingsError: they are no text, or too many.
    """
    if len(data) > LARGEST_FILE:
        raise too_large(source)
    if data.startswith(b"PK\x03\x04"):
        remedy = "Save the sheet as CSV (text) from the spreadsheet."
        raise ReadingsError(Fault(source, "a spreadsheet's own file", "readings are plain text", remedy))
    marked = next((encoding for mark, encoding in _MARKS if data.startswith(mark)), None)
    for encoding in (marked,) if marked else ("utf-8", "cp1252"):
        try:
            text = data.decode(encoding).removeprefix("\ufeff")
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    remedy = "Save it as CSV or TOML in UTF-8."
    raise ReadingsError(Fault(source, "no text", "readings are a CSV or TOML file", remedy))


def too_large(source: str) -> ReadingsError:
    """The error for a file that cannot be one of readings."""
    return ReadingsError(
        Fault(source, "larger than 1 MB", "readings are a few pages", "Is it the right file?")
    )
