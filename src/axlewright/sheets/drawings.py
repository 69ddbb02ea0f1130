"""All drawings of a plan as files."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from matplotlib.figure import Figure

from axlewright.plan.report import PlanReport
from axlewright.sheets.cold_shape import draw_cold_shape
from axlewright.sheets.fixture_drawing import draw_fixture
from axlewright.sheets.output import check_folder, write_whole
from axlewright.sheets.style import png_bytes, svg_bytes
from axlewright.sheets.temperature import draw_temperatures
from axlewright.sheets.trade_off import draw_trade_off
from axlewright.sheets.weld_map import draw_weld_maps
from axlewright.sheets.what_matters import draw_what_matters


def save_drawings(report: PlanReport, folder: str | PathLike[str]) -> tuple[Path, ...]:
    """Write every drawing of the report as SVG and as PNG.

    Args:
        report: the finished plan.
        folder: where to write; it must exist, files of the same name are replaced.

    Returns:
        The files written: weld-map-1, weld-map-2, ..., temperature, cold-shape; fixture where there is one,
        trade-off where plans were compared, what-matters where it was worked out; each .svg before .png.

    Raises:
        OutputError: the folder is missing or read-only, or a file cannot be replaced.
    """
    place = Path(folder)
    check_folder(place)
    written = []
    for name, figure in _named_drawings(report):
        written.append(write_whole(place / f"{name}.svg", svg_bytes(figure)))
        written.append(write_whole(place / f"{name}.png", png_bytes(figure)))
    return tuple(written)


def _named_drawings(report: PlanReport) -> list[tuple[str, Figure]]:
    """Every figure with the stem of its file name."""
    maps = [(f"weld-map-{k}", figure) for k, figure in enumerate(draw_weld_maps(report), start=1)]
    trade = [("trade-off", draw_trade_off(report))] if report.trade_off is not None else []
    matters = [("what-matters", draw_what_matters(report))] if report.how_sure is not None else []
    usual = [("temperature", draw_temperatures(report)), ("cold-shape", draw_cold_shape(report))]
    fixture = draw_fixture(report)
    clamped = [("fixture", fixture)] if fixture is not None else []
    return [*maps, *usual, *clamped, *trade, *matters]
