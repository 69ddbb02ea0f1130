"""What long work tells while it runs, and how a search is asked to stop."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.tasks.long_watch import HowFar, Watch


@dataclass
class Searching:
    """A search in the middle of its tries."""

    stopped: bool = False
    done: int = 12
    plans: int = 40


def test_stages_are_told_and_counts_only_from_time_to_time() -> None:
    """Each new stage is told at once; of a thousand counts in a moment hardly one is."""
    told: list[HowFar] = []
    watch = Watch(told.append)
    watch.stage("meshing the housing")
    for done in range(1000):
        watch.stage("drawing", done, 1000)
    watch.stage("printing")
    assert [told[0], told[1], told[-1]] == [
        HowFar("meshing the housing"),
        HowFar("drawing", 0, 1000),
        HowFar("printing"),
    ]
    assert len(told) < 20


def test_a_search_tells_its_best_and_that_it_can_be_stopped() -> None:
    """What is told of a search has its count and the best so far, which is asked for only then."""
    told: list[HowFar] = []
    asked: list[int] = []
    watch = Watch(told.append)
    for number in range(100):
        watch.searching(Searching(), "looking", lambda number=number: asked.append(number) or "43 min")  # type: ignore[misc]
    assert told[0] == HowFar("looking", 12, 40, "43 min", searching=True)
    assert len(asked) == len(told) < 20


def test_the_wish_to_stop_reaches_the_search_at_hand_and_the_one_that_follows() -> None:
    """A search is stopped at once, and so is one that takes over from it on stronger tacks."""
    watch, first, second = Watch(), Searching(), Searching()
    watch.searching(first, "looking", str)
    assert not first.stopped
    watch.keep()
    assert first.stopped
    watch.searching(second, "looking", str)
    assert second.stopped
