"""States worked out once for each event."""

from __future__ import annotations

import pytest
from web.shop_made import MadeUp, made_up

from axlewright.record.store import Store
from axlewright.tasks import standing
from axlewright.tasks.keeping import write_note
from axlewright.tasks.standing import stands, stands_in_line
from axlewright.tasks.standing import stands as state
from axlewright.tasks.telling import Telling


def test_a_state_is_that_of_all_its_events(old_job: MadeUp) -> None:
    """What was worked out step by step is what is worked out at once."""
    stands(old_job.store, old_job.job)
    write_note(old_job.store, old_job.job, "one more", Telling("Ann"))
    assert stands(old_job.store, old_job.job) == state(old_job.store, old_job.job)


def test_nothing_new_is_worked_out_twice(old_job: MadeUp) -> None:
    """Without a new event the very same state is given; with one another."""
    first = stands(old_job.store, old_job.job)
    assert stands(old_job.store, old_job.job) is first
    assert stands_in_line(old_job.store, old_job.store.jobs()[0]) is first
    write_note(old_job.store, old_job.job, "one more", Telling("Ann"))
    assert stands_in_line(old_job.store, old_job.store.jobs()[0]) is not first


def test_only_so_many_are_kept(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """The state longest not asked for goes first."""
    monkeypatch.setattr(standing, "KEPT_JOBS", 2)
    jobs = [made_up(store, f"Truck {number}").job for number in range(3)]
    first = stands(store, jobs[0])
    stands(store, jobs[1])
    assert stands(store, jobs[0]) is first
    stands(store, jobs[2])
    assert stands(store, jobs[0]) is first
    assert len(standing._known[store].states) == 2
