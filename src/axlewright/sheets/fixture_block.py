"""The fixture's page of the work sheet as plain text fields."""

from __future__ import annotations

from typing import Any

from axlewright.plan.report import PlanReport
from axlewright.sheets import fixture_words
from axlewright.sheets.fixture_drawing import draw_fixture
from axlewright.sheets.style import PAPER, svg_bytes


def fixture_block(report: PlanReport) -> dict[str, Any] | None:
    """Every word, number and drawing of the fixture's page; None where the housing lies free."""
    fixture, figure = report.fixture, draw_fixture(report)
    if fixture is None or figure is None:
        return None
    inch = report.inch
    return {
        "do": fixture_words.intention(fixture, inch),
        "planes": [
            {
                "title": fixture_words.plane_title(plane),
                "rows": fixture_words.support_rows(fixture, plane, inch),
            }
            for plane in fixture.planes
        ],
        "heads": list(fixture_words.SUPPORT_HEADINGS),
        "note": fixture_words.BENDS_THERE,
        "stages": fixture_words.stage_rows(fixture, inch),
        "stage_heads": list(fixture_words.STAGE_HEADINGS),
        "remarks": [fixture_words.strain(fixture, inch), *fixture.remarks],
        "drawing": svg_bytes(figure, PAPER).decode("utf-8"),
    }
