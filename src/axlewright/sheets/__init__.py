"""Drawings and printed sheets, made from a finished plan and nothing else."""

from __future__ import annotations

from axlewright.sheets.cold_shape import draw_cold_shape
from axlewright.sheets.drawings import save_drawings
from axlewright.sheets.temperature import draw_temperatures
from axlewright.sheets.weld_map import draw_weld_maps
from axlewright.sheets.work_sheet import PAPERS, Paper, work_sheet_pdf, write_work_sheet

__all__ = [
    "PAPERS",
    "Paper",
    "draw_cold_shape",
    "draw_temperatures",
    "draw_weld_maps",
    "save_drawings",
    "work_sheet_pdf",
    "write_work_sheet",
]
