"""Checks and corrections as files for other programs: lengths in metres, angles in degrees, times in seconds."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from axlewright.errors import Fault, ReadingsError
from axlewright.straightness.correct.report import CorrectionReport
from axlewright.straightness.report import StraightnessReport

_CHECK = TypeAdapter(StraightnessReport)
_CORRECTION = TypeAdapter(CorrectionReport)


def straightness_text(report: StraightnessReport) -> str:
    """The report as straightness.json."""
    return _CHECK.dump_json(report, indent=2).decode() + "\n"


def correction_text(report: CorrectionReport) -> str:
    """The report as correction.json."""
    return _CORRECTION.dump_json(report, indent=2).decode() + "\n"


def read_correction(path: Path) -> CorrectionReport:
    """An earlier correction.json.

    Raises:
        ReadingsError: it cannot be read, or is no correction.json.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it is not UTF-8 text"
        raise _unreadable(str(path), reason) from error
    return parse_correction(text, str(path))


def parse_correction(text: str, source: str) -> CorrectionReport:
    """The text of an earlier correction.json; `source` stands for the file in messages.

    Raises:
        ReadingsError: it is no correction.json.
    """
    try:
        return _CORRECTION.validate_json(text)
    except ValidationError as error:
        raise _unreadable(source, "it is no correction.json of this version") from error


def _unreadable(source: str, reason: str) -> ReadingsError:
    remedy = "Give the correction.json that the earlier run wrote, or leave --earlier out"
    return ReadingsError(Fault(source, "unreadable", reason, remedy))


def straightness_schema() -> dict[str, Any]:
    """JSON Schema of straightness.json."""
    return _headed(_CHECK, "axlewright straightness.json")


def correction_schema() -> dict[str, Any]:
    """JSON Schema of correction.json."""
    return _headed(_CORRECTION, "axlewright correction.json")


def _headed(adapter: TypeAdapter[Any], title: str) -> dict[str, Any]:
    schema = adapter.json_schema(mode="serialization")
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title}
    return json.loads(json.dumps(schema | head))
