"""Drawings and printed sheets, made from a finished plan and nothing else."""

from __future__ import annotations

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
