"""Fetching a name from its module when it is first asked for (PEP 562).

A check of straightness is answered in milliseconds; it must not wait a second, or three on an old laptop, for what only
planning, drawing and printing need. Packages that offer many things to few callers at a time fetch them so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def on_demand(package: str, modules: Mapping[str, tuple[str, ...]]) -> Callable[[str], Any]:
    """The `__getattr__` of a package that offers names of other modules.

    Args:
        package: name of the package, for messages.
        modules: names that are offered, by the module they live in.
    """
    module_of = {name: module for module, names in modules.items() for name in names}

    def fetch(name: str) -> Any:
        if name not in module_of:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        return getattr(import_module(module_of[name]), name)

    return fetch
