"""The figures and their explanations, as the TOML files of this folder tell them."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from axlewright.errors import Fault, NotInRecordError


class Entry(BaseModel):
    """Base of what the files hold."""

    model_config = ConfigDict(frozen=True, extra="forbid", use_attribute_docstrings=True)


class Input(Entry):
    """Something a figure is worked out from."""

    symbol: str = ""
    """What the formula calls it; what follows an underscore stands lower."""
    words: str
    """What it is."""
    place: Annotated[str, Field(alias="from")]
    """Where its value stands."""
    unit: str = ""
    """Unit that the formula has it in."""
    value: float | None = None
    """The value of a constant."""
    note: str = ""
    """Where it is from, beyond its place."""


class Figure(Entry):
    """A figure that a page shows, and where it comes from."""

    id: Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
    """What an address calls it."""
    title: str
    """What a page calls it."""
    means: str
    """What it is."""
    formula: str = ""
    """As a handbook prints it."""
    arithmetic: str = ""
    """The same, to be worked out over the symbols of the inputs."""
    unit: str = ""
    """Unit of what `arithmetic` gives."""
    value: str = ""
    """Where the figure itself stands."""
    band: str = ""
    """Where its low and high edge stand."""
    band_holds: Literal[80, 90] = 80
    """How many of a hundred cases lie within them, as many below as above."""
    inputs: tuple[Input, ...] = ()
    """What it is worked out from."""
    source: str
    """Standard, handbook or paper, with year and clause; or that it is ours."""
    leaves_out: str
    """What it does not know."""
    theory: str
    """The page of docs/ that tells more."""


@lru_cache(maxsize=1)
def figures() -> dict[str, Figure]:
    """All figures by id.

    Raises:
        ValueError: a file breaks the rules, or an id stands twice (a fault of ours, found by the tests).
    """
    found: dict[str, Figure] = {}
    folder = files("axlewright.tasks.whence")
    for file in sorted(folder.iterdir(), key=lambda one: one.name):
        if not file.name.endswith(".toml"):
            continue
        for table in tomllib.loads(file.read_text(encoding="utf-8")).get("figure", []):
            figure = Figure.model_validate(table)
            if figure.id in found:
                raise ValueError(f"{file.name}: figure {figure.id!r} stands twice")
            found[figure.id] = figure
    return found


def figure_named(name: str) -> Figure:
    """The figure of that id.

    Raises:
        RecordError: there is none.
    """
    found = figures().get(name)
    if found is None:
        allowed = "is not in the record of figures that pages show"
        raise NotInRecordError(Fault("figure", repr(name), allowed, "Follow a link beside a number."))
    return found
