"""Every public formula states its arguments with units, its source, where it holds and what it raises."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from typing import Any

import pytest

import axlewright.weld

MODULES = [
    importlib.import_module(f"axlewright.weld.{found.name}")
    for found in pkgutil.iter_modules(axlewright.weld.__path__)
    if not found.name.startswith("_")
]
FUNCTIONS = [
    function
    for module in MODULES
    for name, function in inspect.getmembers(module, inspect.isfunction)
    if function.__module__ == module.__name__ and not name.startswith("_")
]


def documented_arguments(text: str) -> dict[str, str]:
    """Split the Args block of a docstring into argument and description."""
    block = re.search(r"^Args:\n(.*?)(?:\n\n|\Z)", text, re.S | re.M)
    if block is None:
        return {}
    entries = re.split(r"^ {4}(?=\w+: )", block.group(1), flags=re.M)
    return dict(entry.split(": ", 1) for entry in entries if entry.strip())


def test_the_formulas_are_found() -> None:
    """The search for public functions finds the formulas of every module."""
    assert len(FUNCTIONS) >= 40
    assert {function.__module__ for function in FUNCTIONS} == {module.__name__ for module in MODULES}


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda f: f"{f.__module__.split('.')[-1]}.{f.__name__}")
def test_docstring(function: Callable[..., Any]) -> None:
    """The docstring names the signature's arguments, each with a unit, and Source, Valid and Raises."""
    text = inspect.getdoc(function) or ""
    arguments = documented_arguments(text)
    assert list(arguments) == list(inspect.signature(function).parameters)
    for name, description in arguments.items():
        assert re.search(r"\[[^\]]+\]\s*$", description), f"{name} has no unit"
    for word in ("Returns:", "Source:", "Valid:", "Raises:"):
        assert re.search(rf"^{word} *\S*", text, re.M), f"{word} is missing"
    assert re.search(r"^Source: \S", text, re.M)
    assert re.search(r"^Valid: \S", text, re.M)
    assert re.search(r"^Raises: ValueError ", text, re.M)
