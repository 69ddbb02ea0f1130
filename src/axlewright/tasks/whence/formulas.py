"""The formulas and tables of the weld that figures are explained with, fetched when first asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axlewright.on_demand import on_demand

if TYPE_CHECKING:
    from axlewright.weld.arc import arc_efficiency, process_name
    from axlewright.weld.bead import deposition_efficiency
    from axlewright.weld.cooling import shape_factors
    from axlewright.weld.steel import steel

__all__ = ["arc_efficiency", "deposition_efficiency", "process_name", "shape_factors", "steel"]

__getattr__ = on_demand(
    __name__,
    {
        "axlewright.weld.arc": ("arc_efficiency", "process_name"),
        "axlewright.weld.bead": ("deposition_efficiency",),
        "axlewright.weld.cooling": ("shape_factors",),
        "axlewright.weld.steel": ("steel",),
    },
)
