from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from web.plan.seeded import NAMES, plan_of

SCHEMA = Path(__file__).parents[3] / "schema" / "plan.schema.json"


@pytest.mark.regression
@pytest.mark.parametrize("name", NAMES)
def test_the_kept_plans_have_the_form_of_today(name: str) -> None:
    """What the page is tested with is a plan.json as this version writes it; else `make_plans.py` makes it again."""
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    assert list(Draft202012Validator(schema).iter_errors(plan_of(name))) == []
