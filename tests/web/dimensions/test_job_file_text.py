"""Changing the text of a job file by form changes what was changed and nothing else."""

from __future__ import annotations

import copy
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from web.dimensions.forms import DEMOS, FULL

from axlewright.job import demo_text, parse_job
from axlewright.tasks.describing_text import has_comments, written_anew, written_over
from axlewright.web.form.rows import changed_rows
from axlewright.web.form.tree import as_typed, tree_of, typed_of
from axlewright.web.form.typed import cleaned


def over(text: str, tree: dict[str, Any]) -> tuple[str, bool]:
    """Text of a job file changed as the form changes it."""
    return written_over(text, tree, as_typed)


@pytest.mark.parametrize("text", [*map(demo_text, DEMOS), FULL], ids=[*DEMOS, "full"])
def test_unchanged_is_the_same_text(text: str) -> None:
    """Where nothing is changed the text is the same to the last character."""
    assert over(text, as_typed(tomllib.loads(text))) == (text, True)


@pytest.mark.parametrize("text", [*map(demo_text, DEMOS), FULL], ids=[*DEMOS, "full"])
def test_written_anew_is_the_same_job(text: str) -> None:
    """Written anew as typed, a job file describes the same job."""
    assert parse_job(written_anew(as_typed(tomllib.loads(text))), "anew") == parse_job(text, "file")


def test_keys_come_and_go() -> None:
    """A key that is filled in is put into its table, one that is emptied is taken out, a new table is headed."""
    text = demo_text("truss-only")
    tree = as_typed(tomllib.loads(text))
    tree["limits"] = {"spot": 80}
    del tree["housing"]["centre"]["opening_diameter"]
    tree["truss"][0]["clear_of_centre"] = 12
    changed, kept = over(text, tree)
    assert kept
    assert as_typed(tomllib.loads(changed)) == tree
    assert changed.count("#") == text.count("#") - 1
    assert "[limits]" in changed


def test_comments_stay_with_their_entry() -> None:
    """Where an entry is taken out, its comments go with it and those of the others stay where they belong."""
    text = demo_text("rescue-truck").replace(
        'name = "left rear gusset"', 'name = "left rear gusset"  # the bent one'
    )
    tree = as_typed(tomllib.loads(text))
    del tree["gusset"][0]
    changed, kept = over(text, tree)
    assert kept
    assert 'name = "left rear gusset"  # the bent one' in changed
    assert "# along the knuckle flange" not in changed


NAMES = sorted(name for name in typed_of(tomllib.loads(FULL)).texts if name != "units")
ACTIONS = [
    "remove:gusset.1",
    "copy:gusset.0",
    "mirror:spacer.0",
    "add:guard",
    "remove:guard.0",
    "remove:truss.0",
    "add:bracket",
    "after:truss.0.top.2",
    "remove:truss.0.openings.0",
    "add:housing.seal",
    "remove:housing.perch.0",
    "remove:fixture.support.1",
]


@given(
    texts=st.dictionaries(
        st.sampled_from(NAMES), st.sampled_from(["", "1", "12 3/4 in", "x", "77.5", "4:30"]), max_size=5
    ),
    actions=st.lists(st.sampled_from(ACTIONS), max_size=3),
)
@settings(max_examples=120)
def test_any_change_says_what_the_form_says(texts: dict[str, str], actions: list[str]) -> None:
    """After any change the text reads as what was typed, and the text before is not touched by trying."""
    typed = cleaned({**typed_of(tomllib.loads(FULL)).texts, **texts})
    for action in actions:
        typed, _ = changed_rows(typed, action)
    tree = tree_of(typed)
    asked = copy.deepcopy(tree)
    changed, kept = over(FULL, tree)
    assert tree == asked
    assert as_typed(tomllib.loads(changed)) == tree
    assert kept == has_comments(changed) or not kept


@pytest.mark.parametrize(
    ("text", "there"),
    [
        ("a = 1", False),
        ("a = 1 # one", True),
        ('a = "#"', False),
        ("a = '#'", False),
        ('a = "x" # y', True),
        ("# a", True),
    ],
)
def test_comments_are_found(text: str, there: bool) -> None:
    """A comment is one outside of texts."""
    assert has_comments(text) == there
