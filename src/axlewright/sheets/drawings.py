"""All drawings of a plan as files."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from matplotlib.figure import Figure

from axlewright.plan.report import PlanReport
from axlewright.sheets.cold_shape import draw_cold_shape
from axlewright.sheets.output import check_folder, write_whole
from axlewright.sheets.style import png_bytes, svg_bytes
from axlewright.sheets.temperature import draw_temperatures
from axlewright.sheets.weld_map import draw_weld_maps


def save_drawings(report: PlanReport, folder: str | PathLike[str]) -> tuple[Path, ...]:
    """Write every drawing of the report as SVG and as PNG.

    Args:
        report: the finished plan.
        folder: where to write; it must exist, files of the same name are replaced.

    Returns:
        The files written: weld-map-1, weld-map-2, ..., temperature, cold-shape, each .svg before .png.

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
    return [*maps, ("temperature", draw_temperatures(report)), ("cold-shape", draw_cold_shape(report))]
