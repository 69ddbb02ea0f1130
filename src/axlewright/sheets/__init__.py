"""Drawings and printed sheets, made from finished reports and nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axlewright.on_demand import on_demand

if TYPE_CHECKING:
    from axlewright.sheets.cold_shape import draw_cold_shape
    from axlewright.sheets.drawings import save_drawings
    from axlewright.sheets.fixture_drawing import draw_fixture
    from axlewright.sheets.temperature import draw_temperatures
    from axlewright.sheets.trade_off import draw_trade_off
    from axlewright.sheets.weld_map import draw_weld_maps
    from axlewright.sheets.what_matters import draw_what_matters
    from axlewright.sheets.work_sheet import PAPERS, Paper, work_sheet_pdf, write_work_sheet

__all__ = [
    "PAPERS",
    "Paper",
    "draw_cold_shape",
    "draw_fixture",
    "draw_temperatures",
    "draw_trade_off",
    "draw_weld_maps",
    "draw_what_matters",
    "save_drawings",
    "work_sheet_pdf",
    "write_work_sheet",
]

__getattr__ = on_demand(
    __name__,
    {
        "axlewright.sheets.cold_shape": ("draw_cold_shape",),
        "axlewright.sheets.drawings": ("save_drawings",),
        "axlewright.sheets.fixture_drawing": ("draw_fixture",),
        "axlewright.sheets.temperature": ("draw_temperatures",),
        "axlewright.sheets.trade_off": ("draw_trade_off",),
        "axlewright.sheets.weld_map": ("draw_weld_maps",),
        "axlewright.sheets.what_matters": ("draw_what_matters",),
        "axlewright.sheets.work_sheet": (
            "PAPERS",
            "Paper",
            "work_sheet_pdf",
            "write_work_sheet",
        ),
    },
)
