"""Plain lines for the terminal: they fit its width, and a pipe gets text without control codes."""

from __future__ import annotations

import shutil
import textwrap
from typing import Literal

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from axlewright.sheets.plain_text import clean

NARROWEST = 72
"""Columns below which nothing is squeezed further; a narrower window breaks the lines itself."""


def output() -> Console:
    """Standard output, as wide as the window."""
    width = shutil.get_terminal_size().columns
    return Console(highlight=False, markup=False, emoji=False, width=max(NARROWEST, width))


def aside() -> Console:
    """Standard error, for what is not the answer."""
    return Console(stderr=True, highlight=False, markup=False, emoji=False)


def put(console: Console, text: str, hanging: str = "", style: str = "") -> None:
    """Print a text broken at words; `hanging` stands before it and further lines are indented as far."""
    lines = textwrap.fill(
        clean(text), console.width - 1, initial_indent=hanging, subsequent_indent=" " * len(hanging)
    )
    console.print(Text(lines, style=style), soft_wrap=True)


def put_table(console: Console, made: Table) -> None:
    """Print a table; in a pipe or file no line ends in blanks."""
    if console.is_terminal:
        console.print(made)
        return
    with console.capture() as kept:
        console.print(made)
    put_lines(console, [line.rstrip() for line in kept.get().splitlines()])


def put_lines(console: Console, lines: list[str]) -> None:
    """Print finished lines as they are."""
    console.print(Text("\n".join(lines)), soft_wrap=True)


def table(*columns: str, folds: int, right: tuple[int, ...]) -> Table:
    """A table with a rule under its headings; only column `folds` may break into several lines."""
    made = Table(
        box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0), header_style="bold"
    )
    for number, heading in enumerate(columns):
        side: Literal["left", "right"] = "right" if number in right else "left"
        made.add_column(heading, justify=side, overflow="fold", no_wrap=number != folds)
    return made


def listed(console: Console, heading: str, lines: tuple[str, ...]) -> None:
    """A heading with its lines, or nothing where there are none."""
    if not lines:
        return
    console.print()
    put(console, heading, style="bold")
    for line in lines:
        put(console, line, hanging="  - ")
