"""What a pair of eyes checks on any picture or sheet: nothing cut off, nothing on top of anything, all legible."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.text import Text

needs_poppler = pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler-utils is not there")
LEAST_CONTRAST = 4.5
"""Of text against its ground: WCAG 2.2, success criterion 1.4.3 (text written from memory)."""


def texts(figure: Figure) -> list[Text]:
    """Every text that shows."""
    return [text for text in figure.findobj(Text) if text.get_text() and text.get_visible()]


def words(figure: Figure) -> str:
    """All text of a figure."""
    return "\n".join(text.get_text() for text in texts(figure))


def said(figure: Figure) -> dict[str, str]:
    """Named text of a figure."""
    return {str(text.get_gid()): text.get_text() for text in texts(figure) if text.get_gid()}


def lines(figure: Figure, name: str) -> list[Line2D]:
    """Lines whose name in the drawing begins so."""
    return [line for line in figure.findobj(Line2D) if str(line.get_gid()).startswith(name)]


def check_legible(figure: Figure) -> None:
    """No word leaves the page, covers another or is too pale on the off-white ground."""
    figure.draw_without_rendering()
    shown = texts(figure)
    boxes = [text.get_window_extent() for text in shown]
    page = figure.bbox
    for text, box in zip(shown, boxes, strict=True):
        inside = page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 and box.y1 <= page.y1
        assert inside, f"off the page: {text.get_text()}"
        assert contrast(text.get_color(), figure.get_facecolor()) >= LEAST_CONTRAST, text.get_text()
    for n, box in enumerate(boxes):
        covered = [other for other, there in zip(shown[:n], boxes[:n], strict=True) if box.overlaps(there)]
        assert not covered, f"{shown[n].get_text()!r} covers {[text.get_text() for text in covered]}"


def contrast(one: object, other: object) -> float:
    """Contrast ratio of two colours (WCAG 2.2)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: object) -> float:
    parts = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in to_rgb(colour)]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def text_of(path: Path) -> str:
    """The text of a PDF as it lies on the page, blanks run together."""
    command = ["pdftotext", "-layout", "-enc", "UTF-8", str(path), "-"]
    text = subprocess.run(command, capture_output=True, check=True).stdout.decode("utf-8")
    return re.sub(r"[ \u200b]+", " ", text)


def flat(text: str) -> str:
    """Text without any blanks, for words that may be broken over lines."""
    return re.sub(r"[\s\u200b]+", "", text)


def pages(path: Path) -> list[str]:
    """The text of each page."""
    return text_of(path).rstrip("\f").split("\f")


def page_sizes(path: Path) -> set[tuple[float, float]]:
    """Width and height of the pages [mm]."""
    command = ["pdfinfo", "-l", "999", str(path)]
    told = subprocess.run(command, capture_output=True, check=True).stdout.decode("utf-8")
    sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", told)
    return {(round(float(w) * 25.4 / 72.0, 1), round(float(h) * 25.4 / 72.0, 1)) for w, h in sizes}
