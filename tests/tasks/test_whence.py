from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from web.plan.seeded import NAMES, job_text, plan_of

from axlewright.errors import RecordError
from axlewright.job.reading import parse_job
from axlewright.plan.settings import weld_settings
from axlewright.tasks.whence.answer import in_short, outcome, value_of, where_from
from axlewright.tasks.whence.arithmetic import names_in, worked_out, written_out
from axlewright.tasks.whence.entries import Figure, figures
from axlewright.tasks.whence.facts import Facts, Which
from axlewright.tasks.whence.found import Found
from axlewright.tasks.whence.found import figures as to_four_figures
from axlewright.tasks.whence.places import place_of
from axlewright.tasks.whence.worked_out import WORKED_OUT
from axlewright.tasks.whence.worked_straight import OF_STRAIGHTNESS
from axlewright.weld.cooling import cooling_time
from axlewright.weld.shrinkage import angular_shrinkage, tendon_force
from axlewright.weld.steel import steel
from axlewright.weld.strength import GAMMA_M2, weld_resistance

DOCS = Path(__file__).parents[2] / "docs"
EACH = sorted(figures())

# plan.json rounds minutes to 0.01, mm to 0.001, kJ to 0.001; where inputs are rounded too, twice that.
ROUNDED = {"min": 0.011, "mm": 0.002, "kJ": 0.002}


def facts(name: str, of: Which = "ours") -> Facts:
    """The job and plan kept for the tests."""
    plan = plan_of(name)
    tag = plan["common_practice" if of == "common" else "job"] and plan["beads"][5]["tag"]
    return Facts(parse_job(job_text(name), "job.toml"), 1, {"plan": plan}, {"plan": 2}, of, tag)


def of_plans(figure: Figure) -> bool:
    """Whether a figure is told from a job and its plan alone."""
    places = [figure.value, figure.band, *(one.place for one in figure.inputs)]
    elsewhere = ("check.", "correction.", *(f"worked.{one.__name__}" for one in OF_STRAIGHTNESS))
    return not any(place.startswith(elsewhere) for place in places)


PLANNED = [name for name in EACH if of_plans(figures()[name])]


@pytest.mark.parametrize("name", EACH)
def test_every_theory_page_exists(name: str) -> None:
    """The page that tells more about a figure is a file of docs/."""
    assert (DOCS / figures()[name].theory).is_file()


@pytest.mark.parametrize("name", EACH)
def test_every_figure_names_what_exists(name: str) -> None:
    """What a figure is worked out from stands at a field of the job file, a function or another figure that exist."""
    known = facts("clamped-inch")
    for one in figures()[name].inputs:
        first, _, rest = one.place.partition(".")
        if first == "job":
            place_of(known, one.place)
        elif first == "figure":
            assert rest in figures()
        elif first == "worked":
            assert rest in WORKED_OUT
        elif first == "constant":
            assert one.value is not None
        else:
            assert first in ("plan", "this", "piece", "check", "correction")


@pytest.mark.parametrize("name", EACH)
def test_every_symbol_of_the_arithmetic_is_explained(name: str) -> None:
    """The arithmetic of a figure uses the symbols of its inputs, and no two inputs share a symbol or words."""
    figure = figures()[name]
    symbols = [one.symbol for one in figure.inputs if one.symbol]
    assert len(symbols) == len(set(symbols))
    assert len({one.words for one in figure.inputs}) == len(figure.inputs)
    if figure.arithmetic:
        assert names_in(figure.arithmetic) == set(symbols)


@pytest.mark.parametrize("plan", NAMES)
@pytest.mark.parametrize("of", ["ours", "common"])
@pytest.mark.parametrize("name", PLANNED)
def test_every_figure_of_a_plan_is_told(name: str, of: Which, plan: str) -> None:
    """Each figure answers for this plan and for common practice, in mm and in inches."""
    answer = where_from(name, facts(plan, of))
    assert answer.figure.source and answer.figure.leaves_out and answer.figure.means
    assert all(line.where for line in answer.inputs)


@pytest.mark.parametrize("plan", NAMES)
@pytest.mark.parametrize("of", ["ours", "common"])
@pytest.mark.parametrize("name", [n for n in PLANNED if figures()[n].arithmetic and figures()[n].value])
def test_the_arithmetic_shown_is_true(name: str, of: Which, plan: str) -> None:
    """What a formula gives with the values shown is the figure that stands in the plan, but for its rounding."""
    figure, known = figures()[name], facts(plan, of)
    result, itself = outcome(figure, known), value_of(figure, known)
    assert itself is not None
    if itself.value is None:
        assert result is None
    else:
        assert result == pytest.approx(itself.number, abs=ROUNDED[figure.unit])


@pytest.mark.analytical
@pytest.mark.parametrize("plan", NAMES)
def test_what_follows_from_the_settings_is_what_the_plan_uses(plan: str) -> None:
    """Heat input, leg, throat, t8/5, pull and strength of a tack are those of the room weld (closed forms)."""
    known = facts(plan)
    job, settings = known.job, weld_settings(known.job)
    wall = min(job.housing.left_tube.wall, job.housing.right_tube.wall)
    known_steel = steel(job.housing.steel)
    expected = {
        "heat-input": settings.heat_input / 1e3,
        "arc-power": settings.power,
        "fillet-leg": settings.leg * 1e3,
        "fillet-throat": settings.throat * 1e3,
        "cooling-time": cooling_time(settings.heat_input, wall, job.ambient.temperature, "tee fillet"),
        "tendon-force": float(tendon_force(settings.heat_input)) / 1e3,
        "tack-strength": float(weld_resistance(settings.throat, job.welder.tack_length, known_steel)) / 1e3,
    }
    for name, value in expected.items():
        assert outcome(figures()[name], known) == pytest.approx(value, rel=1e-9), name


@pytest.mark.analytical
def test_constants_are_those_of_the_formulas() -> None:
    """Constants written into the files are those that the room weld works with, to the digits written."""
    gamma = next(one for one in figures()["tack-strength"].inputs if one.symbol == "gamma")
    assert gamma.value == GAMMA_M2
    pull = next(one for one in figures()["tendon-force"].inputs if one.symbol == "c")
    assert pull.value == pytest.approx(float(tendon_force(1.0)))
    closing = next(one for one in figures()["camber-left"].inputs if one.unit == "deg" and one.value)
    assert closing.value == pytest.approx(math.degrees(angular_shrinkage()), abs=0.005)


def test_an_efficiency_of_the_shops_own_is_used_and_named() -> None:
    """Where the job file gives the arc's efficiency, the heat input stands on it and says so."""
    own = job_text("rescue-truck").replace("process = 135", "efficiency = 0.7\nprocess = 135")
    known = Facts(parse_job(own, "job.toml"), 1)
    answer = where_from("heat-input", known)
    assert answer.worked.startswith("0.7 × 20.5 V")
    assert answer.inputs[0].where == "efficiency in [welder] of the job file"


def test_an_inch_job_shows_what_its_file_says() -> None:
    """In an inch job the value in the formula's unit stands beside the one in the file."""
    line = next(one for one in where_from("heat-input", facts("clamped-inch")).inputs if one.symbol == "v")
    assert (line.shown, line.shop) == ("4.5 mm/s", "10.6299 in/min")


def test_a_short_form_gives_title_and_value() -> None:
    """A page that only names a figure gets its title and its value in the shop's unit."""
    assert in_short("heat-input", facts("rescue-truck")) == ("Heat input", "0.60 kJ/mm")
    assert in_short("heat-input", facts("clamped-inch")) == ("Heat input", "15.3 kJ/in")


def test_a_missing_result_is_told() -> None:
    """A figure of a plan that there is not yet is refused in plain words."""
    with pytest.raises(RecordError, match="is not in the record yet"):
        where_from("bench-time", Facts(parse_job(job_text("rescue-truck"), "job.toml"), 1))


def test_a_result_of_another_form_is_told() -> None:
    """A plan.json of another version is refused in plain words."""
    with pytest.raises(RecordError, match="not as this version"):
        where_from("bench-time", Facts(parse_job(job_text("rescue-truck"), "job.toml"), 1, {"plan": {}}))


@pytest.mark.parametrize("formula", ["__import__('os')", "a.b", "[1]", "a if a else b", "'x'", "a @ b"])
def test_nothing_but_arithmetic_is_worked_out(formula: str) -> None:
    """A formula that is anything but arithmetic over its names is refused."""
    with pytest.raises(ValueError, match="no plain arithmetic"):
        worked_out(formula, {"a": 1.0, "b": 2.0})


NUMBERS = st.floats(0.5, 99.0).map(lambda value: round(value, 3))
FORMULAS = st.recursive(
    st.sampled_from("abc"),
    lambda inner: (
        st.builds("({} {} {})".format, inner, st.sampled_from("+-*/"), inner)
        | inner.map("sqrt(abs({}))".format)
        | inner.map("({})**2".format)
    ),
    max_leaves=8,
)


@example("a - (b - c)", 7.0, 5.0, 3.0)
@example("a / (b / c)", 7.0, 5.0, 3.0)
@example("a / (b * c)", 7.0, 5.0, 3.0)
@example("a - (b + c) * a", 7.0, 5.0, 3.0)
@given(FORMULAS, NUMBERS, NUMBERS, NUMBERS)
def test_what_is_written_means_what_is_worked_out(formula: str, a: float, b: float, c: float) -> None:
    """Read as ordinary mathematics, the line that is shown gives the number that is shown."""
    values = {"a": a, "b": b, "c": c}
    text = written_out(formula, {name: repr(value) for name, value in values.items()})
    read = text.replace("×", "*").replace("÷", "/").replace("−", "-").replace("²", "**2")
    read = read.replace("√", "sqrt").replace("size of ", "abs")
    try:
        expected = worked_out(formula, values)
    except ZeroDivisionError:
        return
    assert worked_out(read, {}) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (601.333, "601.3"),
        (0.00034567, "0.0003457"),
        (-1300.0, "−1300"),
        (4.5e6, "4.5 × 10⁶"),
        (120.0, "120"),
    ],
)
def test_numbers_have_four_figures(value: float, text: str) -> None:
    """Numbers are written to four figures, without noughts that say nothing."""
    assert to_four_figures(value) == text


def test_units_are_changed_only_into_what_measures_the_same() -> None:
    """A value goes into the unit of its formula; words and what is left out stay as they are."""
    assert Found(0.0045, "m/s").into("mm/s").number == pytest.approx(4.5)
    assert Found(0.25).into("%").shown == "25 %"
    assert Found(None, "m").into("mm").shown == "left out"
    assert Found("A7").into("mm").shown == "A7"
