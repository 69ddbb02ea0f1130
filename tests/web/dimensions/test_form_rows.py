"""Entries are added, taken away, copied and mirrored."""

from __future__ import annotations

from web.dimensions.forms import typed_demo, typed_full

from axlewright.tasks.describing import refused
from axlewright.web.form.rows import changed_rows
from axlewright.web.form.tree import tree_of
from axlewright.web.form.typed import Typed, blank


def test_added_entries_begin_usefully() -> None:
    """A new truss has a name, a form and two corners; a new gusset an end and a clock position."""
    typed, focus = changed_rows(blank(), "add:truss")
    assert focus == "truss.0.name"
    assert typed.text("truss.0.name") == "truss"
    assert typed.count("truss.0.top") == 2
    again, _ = changed_rows(typed, "add:truss")
    assert again.text("truss.1.name") == "truss 2"


def test_a_second_perch_is_the_right_one() -> None:
    """The second spring perch that is added is called after the other side."""
    typed, _ = changed_rows(changed_rows(blank(), "add:housing.perch")[0], "add:housing.perch")
    assert [typed.text(f"housing.perch.{n}.name") for n in (0, 1)] == ["left perch", "right perch"]


def test_a_row_between_two() -> None:
    """A corner added below another moves those after it by one."""
    before = typed_demo("rescue-truck")
    typed, focus = changed_rows(before, "after:truss.0.top.1")
    assert focus == "truss.0.top.2.0"
    assert [typed.text(f"truss.0.top.{n}.0") for n in range(7)] == [
        "206",
        "280",
        "",
        "620",
        "980",
        "1060",
        "1134",
    ]


def test_removed_closes_up() -> None:
    """Where an entry is taken away those after it move up, with all that belongs to them."""
    typed, _ = changed_rows(typed_demo("rescue-truck"), "remove:gusset.1")
    assert [typed.text(f"gusset.{n}.name") for n in range(typed.count("gusset"))] == [
        "left front gusset",
        "right front gusset",
        "right rear gusset",
    ]
    gone, _ = changed_rows(typed, "remove:truss.0")
    assert gone.count("truss") == 0
    assert not [name for name in gone.texts if name.startswith("truss")]


def test_copied_with_its_lists() -> None:
    """A copy has everything of the first but its name, which no other entry has."""
    typed, focus = changed_rows(typed_demo("rescue-truck"), "copy:truss.0")
    assert focus == "truss.1.name"
    assert typed.text("truss.1.name") == "main truss 2"
    assert typed.text("truss.1.top.3.1") == typed.text("truss.0.top.3.1")
    assert typed.text("truss.1.openings.1.to") == "1035"


def test_mirrored_gusset_stands_at_the_other_end() -> None:
    """A mirrored gusset is at the other end, at the same clock position, named after the other side."""
    typed = typed_demo("rescue-truck")
    for n in (3, 2):
        typed, _ = changed_rows(typed, f"remove:gusset.{n}")
    typed, _ = changed_rows(typed, "mirror:gusset.0")
    new = {key: typed.text(f"gusset.2.{key}") for key in ("name", "end", "clock", "length")}
    assert new == {"name": "right front gusset", "end": "right", "clock": "3", "length": "75"}
    typed, _ = changed_rows(typed, "mirror:gusset.1")
    assert tree_of(typed)["gusset"] == tree_of(typed_demo("rescue-truck"))["gusset"]
    assert refused(tree_of(typed)) == ()


def test_mirrored_place_counts_from_the_other_flange() -> None:
    """A mirrored perch is as far from the right flange as the first is from the left, in the unit of the form."""
    typed, _ = changed_rows(typed_demo("rescue-truck"), "remove:housing.perch.1")
    typed, _ = changed_rows(typed, "mirror:housing.perch.0")
    assert typed.text("housing.perch.1.name") == "right perch"
    assert typed.text("housing.perch.1.at") == "1188"
    inch, _ = changed_rows(typed_demo("cast-centre"), "mirror:housing.perch.0")
    assert inch.text("housing.perch.2.at") == "49 1/2"
    spacer, _ = changed_rows(typed_demo("rescue-truck"), "mirror:spacer.0")
    assert spacer.text("spacer.2.perch") == "right perch"


def test_no_more_than_the_job_file_takes() -> None:
    """A list that is full takes no more entries."""
    typed = blank()
    for _ in range(25):
        typed, _ = changed_rows(typed, "add:housing.perch")
    assert typed.count("housing.perch") == 20


def test_nothing_asked_nothing_changed() -> None:
    """An action that leads nowhere changes nothing."""
    typed = typed_full()
    for action in (
        "add:job",
        "add:units",
        "add:nothing",
        "remove:truss.7",
        "mirror:job",
        "copy:",
        "show",
        "mirror:truss.x",
    ):
        assert changed_rows(typed, action) == (typed, ""), action
    assert changed_rows(Typed({}), "remove:truss.0") == (Typed({}), "")
