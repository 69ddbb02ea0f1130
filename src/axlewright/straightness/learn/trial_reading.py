"""Reading a trial file: whatever stands in it, the answer is a trial or one clear error."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from axlewright.errors import Fault, ShopFileError
from axlewright.file_text import utf8_text
from axlewright.job.faults import Misfit, faults_of, from_validation
from axlewright.straightness.learn.trial import Trial, TrialTube
from axlewright.straightness.learn.trial_fit import trial_misfits
from axlewright.toml_text import SECTIONS, toml_tables
from axlewright.units import show

LARGEST_FILE = 100_000
"""Size in bytes above which a file is not even parsed; a filled trial sheet has two thousand."""

_MOST_DOTS = 200
"""Dots on one line above which it is noise: a key of very many parts costs the parser time by their square."""

_START = "Start from the file that was written with the trial sheet."


def read_trial(path: str | os.PathLike[str]) -> Trial:
    """The trial in a TOML file.

    Raises:
        ShopFileError: the file cannot be read, is not TOML, or does not describe a trial.
    """
    try:
        with Path(path).open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise ShopFileError(
            Fault(show(str(path)), "unreadable", reason, "Check the name and the rights.")
        ) from error
    text = utf8_text(data, str(path), ShopFileError, "a trial file")
    return parse_trial(text, str(path))


def scrap_tube(values: Mapping[str, object], inch: bool) -> TrialTube:
    """A tube from what the shop types: keys of the table [tube] of a trial file.

    Args:
        values: numbers, or text with units.
        inch: whether bare numbers are in inches and degF.

    Raises:
        ShopFileError: something is missing or out of bounds.
    """
    try:
        return TrialTube.model_validate(dict(values), context={"inch": inch})
    except ValidationError as error:
        raise ShopFileError(*from_validation(error, "Scrap tube", "", TrialTube).faults) from error


def parse_trial(text: str, source: str) -> Trial:
    """The trial in the text of a TOML file; `source` stands for the file in messages.

    Raises:
        ShopFileError: the text is not TOML or does not describe a trial.
    """
    tree = _tree(text, source)
    units = tree.get("units")
    if units not in ("mm", "inch"):
        found = "missing" if units is None else show(units)
        misfit = Misfit(
            ("units",), found, 'must be "mm" or "inch"', 'Write units = "mm" on the first line.', Trial
        )
        raise ShopFileError(misfit.fault(source, text))
    try:
        trial = Trial.model_validate(tree, context={"inch": units == "inch"}, by_alias=True, by_name=False)
    except ValidationError as error:
        raise ShopFileError(*from_validation(error, source, text, Trial).faults) from error
    if unfit := tuple(trial_misfits(trial)):
        raise ShopFileError(*faults_of(unfit, source, text))
    return trial


def _tree(text: str, source: str) -> dict[str, Any]:
    """Tables of a text."""
    if len(text) > LARGEST_FILE:
        raise ShopFileError(Fault(source, "larger than 100 kB", "a trial file is one page of text", _START))
    for number, line in enumerate(text.splitlines(), start=1):
        if line.count(".") > _MOST_DOTS:
            raise ShopFileError(Fault(f"{source} line {number}", "", "a line is shorter", "Check for noise."))
    tree = toml_tables(text, source, ShopFileError, SECTIONS)
    if not tree:
        raise ShopFileError(Fault(source, "empty", "a trial file describes a trial on scrap tube", _START))
    return tree
