"""Whatever stands in a file, reading it gives a job or an AxlewrightError, nothing else."""

from __future__ import annotations

import datetime
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from job_texts import CAST, FIXTURE, RESCUE, TRUSS

from axlewright.errors import AxlewrightError
from axlewright.job import Job, parse_job, read_job

KEYS = sorted(
    {
        line.split("=")[0].strip()
        for line in (RESCUE + CAST).splitlines()
        if "=" in line and line[0] not in "# "
    }
)
FIXTURE_KEYS = ["prebend", "shim_step", "support", "plane", "stiffness", "shim_under", "shim_behind", "at"]
SECTIONS = [
    "job",
    "housing",
    "truss",
    "guard",
    "spacer",
    "gusset",
    "bracket",
    "welder",
    "supports",
    "fixture",
    "bench",
    "limits",
    "straightness",
    "ambient",
]
WORDS = [
    "box",
    "front",
    "12 3/4 in",
    "5:30",
    "65 degC",
    "-1 mm",
    "1e400 mm",
    "",
    "left perch",
    "unknown",
    "nan",
    "0/0 in",
]

scalars = st.one_of(
    st.sampled_from(WORDS),
    st.text(max_size=10),
    st.integers(),
    st.sampled_from([0, -1, 1, 135, 10**30]),
    st.floats(),
    st.booleans(),
    st.dates(datetime.date(1, 1, 1)),
)
names = st.sampled_from([*KEYS, *SECTIONS, *FIXTURE_KEYS]) | st.text(max_size=8)
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(names, inner, max_size=5),
    max_leaves=15,
)
trees = st.dictionaries(names, values, max_size=12)


def _check(read: Callable[[], Job]) -> None:
    """Read, and hold every error to its promise: one line per fault, place, allowed and remedy."""
    try:
        assert isinstance(read(), Job)
    except AxlewrightError as error:
        assert error.faults
        for fault in error.faults:
            assert fault.where and fault.allowed and fault.remedy
            assert "\n" not in str(fault)
            assert str(fault).isprintable()


def _toml(value: Any) -> str:
    """A value as inline TOML."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {_toml(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float) and not math.isfinite(value):
        return "nan" if math.isnan(value) else f"{'-' if value < 0 else ''}inf"
    return json.dumps(value) if isinstance(value, str) else str(value)


@given(st.text())
def test_any_text_is_refused_politely(text: str) -> None:
    """Arbitrary text never raises anything but an AxlewrightError."""
    _check(lambda: parse_job(text, "fuzz.toml"))


@given(st.binary(max_size=300))
def test_any_bytes_are_refused_politely(tmp_path_factory: Any, data: bytes) -> None:
    """A file of arbitrary bytes never raises anything but an AxlewrightError."""
    path: Path = tmp_path_factory.getbasetemp() / "fuzz.toml"
    path.write_bytes(data)
    _check(lambda: read_job(path))


@given(trees, st.sampled_from(["mm", "inch"]))
def test_any_toml_tree_is_refused_politely(tree: dict[str, Any], units: str) -> None:
    """Random TOML of known and unknown keys never raises anything but an AxlewrightError."""
    lines = [f"{json.dumps(key)} = {_toml(value)}" for key, value in ({"units": units} | tree).items()]
    _check(lambda: parse_job("\n".join(lines), "fuzz.toml"))


@st.composite
def mutated_demos(draw: st.DrawFn) -> str:
    """A demo with up to four lines dropped, doubled, swapped, given another value, or scratched."""
    lines = draw(st.sampled_from([RESCUE, TRUSS, CAST, TRUSS + FIXTURE])).splitlines()
    for _ in range(draw(st.integers(1, 4))):
        n, other = draw(st.integers(0, len(lines) - 1)), draw(st.integers(0, len(lines) - 1))
        match draw(st.sampled_from(["drop", "double", "swap", "value", "key", "scratch"])):
            case "drop":
                lines[n] = ""
            case "double":
                lines.insert(n, lines[n])
            case "swap":
                lines[n], lines[other] = lines[other], lines[n]
            case "value":
                lines[n] = f"{lines[n].split('=')[0]}= {_toml(draw(values))}"
            case "key":
                lines[n] = f"{draw(st.sampled_from(KEYS))} = {lines[n].partition('=')[2]}"
            case "scratch":
                at = draw(st.integers(0, len(lines[n])))
                lines[n] = lines[n][:at] + draw(st.text(max_size=3)) + lines[n][at + 1 :]
    return "\n".join(lines)


@given(mutated_demos())
def test_any_mutated_demo_is_read_or_refused_politely(text: str) -> None:
    """A demo with lines dropped, doubled, swapped or scratched raises nothing but AxlewrightError."""
    _check(lambda: parse_job(text, "fuzz.toml"))


NUMBERS = [n for n, line in enumerate(RESCUE.splitlines()) if line.split("#")[0].strip()[-1:].isdigit()]


@given(st.sampled_from(NUMBERS), st.floats(0.3, 3.0))
def test_any_rescaled_dimension_is_read_or_refused_politely(number: int, factor: float) -> None:
    """One number of the demo, scaled by a third to three, passes or is refused."""
    lines = RESCUE.splitlines()
    key, _, value = lines[number].split("#")[0].partition("=")
    lines[number] = f"{key}= {float(value) * factor!r}"
    _check(lambda: parse_job("\n".join(lines), "fuzz.toml"))
