"""Welds that must not be made without a procedure of their own are refused."""

from __future__ import annotations

import pytest
from job_texts import CAST, RESCUE, caught, changed, check_message, with_bracket

from axlewright.errors import ProcedureError
from axlewright.job import parse_job

GUARD = changed(RESCUE, "[welder]", "[other]")[RESCUE.index("[[guard]]") : RESCUE.index("[[spacer]]")]
CAST_GUARD = changed(GUARD, "diameter = 220", 'diameter = "220 mm"')
CAST_GUARD = changed(
    changed(CAST_GUARD, "thickness = 6", 'thickness = "6 mm"'), "dish = 25", 'dish = "25 mm"'
)

PROCEDURE_FAULTS = {
    "truss welded to an unknown casting": (
        changed(CAST, "clear_of_centre =", "# clear"),
        ("clear_of_centre in [[truss]]", "unknown metal", "spark test"),
    ),
    "truss welded to nodular iron": (
        changed(
            changed(CAST, "clear_of_centre =", "# clear"), 'casting = "unknown"', 'casting = "nodular iron"'
        ),
        ("nodular iron", "clear_of_centre"),
    ),
    "guard welded to an unknown casting": (CAST + CAST_GUARD, ("[[guard]] no. 1", "unknown metal")),
    "bracket welded to an unknown casting": (
        with_bracket(CAST, 33, length=2)
        .replace("height = 40", "height = 2")
        .replace("thickness = 5", "thickness = 0.25"),
        ("at in [[bracket]]", "unknown metal"),
    ),
}


@pytest.mark.parametrize(("text", "words"), PROCEDURE_FAULTS.values(), ids=PROCEDURE_FAULTS)
def test_a_weld_on_a_doubtful_casting_is_refused(text: str, words: tuple[str, ...]) -> None:
    """A seam on a casting that is not known to be steel is a question of procedure, not of dimensions."""
    error = caught(text)
    assert type(error) is ProcedureError
    check_message(error, words)


def test_a_steel_casting_may_be_welded() -> None:
    """A casting known to be steel carries the truss like any other steel."""
    text = changed(changed(CAST, "clear_of_centre =", "# clear"), 'casting = "unknown"', 'casting = "steel"')
    assert parse_job(text, "shop.toml").trusses[0].clear_of_centre is None
