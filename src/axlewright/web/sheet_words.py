"""What printed sheets and drawings are, by the names their files have."""

from __future__ import annotations

import re
from dataclasses import dataclass

from axlewright.record.events import DocumentLine, Event

WORDS = {
    "work-sheet": "Work sheet for the bench: beads in order, with boxes to tick",
    "measuring-sheet": "Measuring sheet: where to measure, with lines to write the readings on",
    "correction-sheet": "Correction sheet: where, how much and in which order",
    "weld-map": "Weld map: every seam unrolled, beads numbered in order",
    "temperature": "Temperatures over the bench time",
    "cold-shape": "Shape when cold, with its band",
    "what-matters": "What the figures depend on most",
    "fixture": "Housing in its fixture",
    "trade-off": "All plans to choose from",
    "straightness": "Straightness, both planes, before and after",
    "correction": "What the correction is to do",
}
PAPERS = {"a4": "A4", "us-letter": "US Letter"}
PRINTED = ("pdf", "svg", "png")
_NAME = re.compile(r"(?P<stem>.+?)(?:-(?P<paper>a4|us-letter))?(?:-(?P<part>\d+))?\.(?P<end>pdf|svg|png)$")


@dataclass(frozen=True)
class Sheet:
    """A sheet or drawing in all the forms it has.

    Args:
        words: what it is.
        files: words for each form ("PDF, A4"), and its document.
        picture: the form to show small, if any.
    """

    words: str
    files: tuple[tuple[str, DocumentLine], ...]
    picture: DocumentLine | None


def sheets_of(event: Event) -> list[Sheet]:
    """The sheets and drawings an event brought, what is printed first."""
    groups: dict[tuple[str, str], list[tuple[str, DocumentLine]]] = {}
    for line in event.documents:
        found = _NAME.match(line.name)
        if found is not None:
            form = found["end"].upper()
            paper = f", {PAPERS[found['paper']]}" if found["paper"] else ""
            groups.setdefault((found["stem"], found["part"] or ""), []).append((form + paper, line))
    sheets = [_sheet(stem, part, files) for (stem, part), files in groups.items()]
    return sorted(sheets, key=lambda sheet: not sheet.files[0][0].startswith("PDF"))


def _sheet(stem: str, part: str, files: list[tuple[str, DocumentLine]]) -> Sheet:
    name, colon, rest = WORDS.get(stem, stem.replace("-", " ").capitalize()).partition(":")
    words = f"{name} {part}{colon}{rest}" if part else f"{name}{colon}{rest}"
    pictures = [line for form, line in files if form in ("PNG", "SVG")]
    ordered = tuple(sorted(files, key=lambda each: (not each[0].startswith("PDF"), each[0])))
    return Sheet(words, ordered, pictures[0] if pictures else None)
