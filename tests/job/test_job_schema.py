"""The JSON Schema in the repository is the model's, and describes the files people write."""

from __future__ import annotations

import copy
import json
import tomllib
from pathlib import Path

import jsonschema
import pytest

from axlewright.job import demo_names, demo_text, job_schema, parse_job, write_job

COMMITTED = Path(__file__).parents[2] / "schema" / "job.schema.json"
VALIDATOR = jsonschema.Draft202012Validator(job_schema())


def test_the_committed_schema_is_the_models() -> None:
    """`schema/job.schema.json` is what `job_schema()` gives; write it anew after a change of the model."""
    assert json.loads(COMMITTED.read_text(encoding="utf-8")) == job_schema()


def test_the_schema_is_a_schema() -> None:
    """It passes the meta-schema it names."""
    jsonschema.Draft202012Validator.check_schema(job_schema())


@pytest.mark.parametrize("name", demo_names())
def test_demos_fit_the_schema(name: str) -> None:
    """Demo files, and what the writer makes of them, validate as TOML data."""
    VALIDATOR.validate(tomllib.loads(demo_text(name)))
    VALIDATOR.validate(tomllib.loads(write_job(parse_job(demo_text(name), name))))


def _broken(change: str) -> dict:
    tree = copy.deepcopy(tomllib.loads(demo_text("rescue-truck")))
    match change:
        case "unknown key":
            tree["housing"]["lenght"] = 1300
        case "negative":
            tree["truss"][0]["thickness"] = -5
        case "zero speed":
            tree["welder"]["travel_speed"] = 0
        case "no units":
            del tree["units"]
        case "wrong word":
            tree["guard"][0]["side"] = "top"
        case "list as length":
            tree["housing"]["length"] = [1300]
        case "clock":
            tree["gusset"][0]["clock"] = "25:00"
        case "point of three":
            tree["truss"][0]["top"][0] = [1, 2, 3]
    return tree


BROKEN = [
    "unknown key",
    "negative",
    "zero speed",
    "no units",
    "wrong word",
    "list as length",
    "clock",
    "point of three",
]


@pytest.mark.parametrize("change", BROKEN)
def test_an_editor_marks_what_the_reader_refuses(change: str) -> None:
    """The schema refuses unknown keys, signs, words and types as the reader does."""
    assert not VALIDATOR.is_valid(_broken(change))


def test_every_key_is_explained() -> None:
    """Every key of every table has a description, and no default that would mean metres."""
    schema = job_schema()
    for record in (schema, *schema["$defs"].values()):
        assert record["additionalProperties"] is False
        for key, field in record["properties"].items():
            table = schema["$defs"].get(field.get("$ref", "").rpartition("/")[2], {})
            assert field.get("description") or table.get("description"), key
            assert "default" not in field
