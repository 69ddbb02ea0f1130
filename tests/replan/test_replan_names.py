"""Names of beads and marks on seams."""

from __future__ import annotations

import numpy as np
import pytest
from replan.bench_log import demo_intent

from axlewright.errors import JobFileError
from axlewright.plan.bead_words import runs_along_axle
from axlewright.plan.replan.marks import read_mark
from axlewright.plan.tags import letters
from axlewright.units import format_clock


@pytest.mark.analytical
def test_letters_go_on_after_z() -> None:
    """A to Z, then AA; 26 + 26 x 26 seams later AAA."""
    assert [letters(n) for n in (0, 25, 26, 27, 701, 702)] == ["A", "Z", "AA", "AB", "ZZ", "AAA"]


@pytest.mark.parametrize("name", ["rescue-truck", "truss-only", "cast-centre"])
def test_every_bead_has_its_own_name(name: str) -> None:
    """Tags are unique, lead back to the bead in any case, and rise along each seam."""
    names = demo_intent(name).names
    assert len(set(names.tags)) == len(names.tags)
    for bead, tag in enumerate(names.tags):
        assert names.bead(f" {tag.lower()} ") == bead
    starts = {
        seam: [b.start for b in names.assembly.beads if b.seam == seam]
        for seam in range(len(names.assembly.seams))
    }
    assert all(np.all(np.diff(found) > 0) for found in starts.values())


@pytest.mark.parametrize("name", ["rescue-truck", "cast-centre"])
def test_marks_read_back(name: str) -> None:
    """Every bead's ends, written as tape reading, clock position or along the seam, are found again."""
    names = demo_intent(name).names
    for bead in names.assembly.beads:
        seam = names.assembly.seams[bead.seam]
        middle = (bead.start + bead.end) / 2
        for s in (bead.start, bead.end):
            assert read_mark(names, bead.seam, f"seam {1e3 * s:.3f} mm", False) == pytest.approx(s, abs=1e-5)
            if seam.clock is not None:
                text, allowed = format_clock(float(seam.at(seam.clock, np.array(s)))), 0.002
            else:
                distance = names.distance_of(bead.seam, s) if runs_along_axle(names.lines[bead.seam]) else s
                text, allowed = f"{1e3 * distance:.3f} mm", 1e-5
            found = read_mark(names, bead.seam, text, False, middle)
            around = seam.length if seam.closed else np.inf
            away = abs(found - s)
            assert min(away, abs(away - around)) < allowed


def test_a_mark_on_a_guard_is_a_clock_position() -> None:
    """A length on a guard is refused with an example; a clock position beyond the seam likewise on an open one."""
    intent = demo_intent("rescue-truck")
    guard = next(n for n, seam in enumerate(intent.names.assembly.seams) if seam.clock is not None)
    with pytest.raises(JobFileError, match="clock positions"):
        read_mark(intent.names, guard, "300", False)
