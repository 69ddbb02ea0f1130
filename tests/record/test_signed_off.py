"""What a signed hold point covers changes only with a reason."""

from __future__ import annotations

import pytest
from tellings import bead, job_file, note, readings, sign_off

from axlewright.errors import SignedOffError
from axlewright.record.events import NewEvent
from axlewright.record.store import Store


def _signed_job(store: Store) -> str:
    job = store.create_job(job_file()).job
    store.append(job, readings("before", "r"))
    store.append(job, sign_off("baseline", {"job file": 1, "readings before": 2}, "s"))
    return job


@pytest.mark.parametrize(
    "change",
    [
        job_file("k"),
        readings("before", "k"),
        readings("before", "k", amends=2),
        readings("after", "k", amends=2),
        NewEvent("withdrawal", "Ben", {}, "k", amends=2),
        readings("before", "k", reason="  "),
    ],
)
def test_what_is_signed_off_changes_only_with_a_reason(store: Store, change: NewEvent) -> None:
    """A change of what a hold point covers is refused, naming point, signer and day, until it gives a reason."""
    job = _signed_job(store)
    day = f"{store.events(job)[-1].at:%Y-%m-%d}"
    with pytest.raises(SignedOffError, match=rf'hold point "baseline", which Ann signed on {day}'):
        store.append(job, change)
    assert len(store.events(job)) == 3
    with_reason = NewEvent(
        change.kind, "Ben", change.body, "k2", change.documents, amends=change.amends, reason="r"
    )
    assert store.append(job, with_reason).number == 4


@pytest.mark.parametrize(
    "other",
    [
        readings("after", "k"),
        note("x", "k"),
        bead("C7", "k"),
        sign_off("baseline", {"job file": 1, "readings before": 2}, "k"),
        NewEvent("withdrawal", "Ann", {}, "k", amends=3),
    ],
)
def test_what_is_not_covered_needs_no_reason(store: Store, other: NewEvent) -> None:
    """Other parts, signing again and taking a sign-off back need none."""
    assert store.append(_signed_job(store), other).number == 4


def test_a_sign_off_taken_back_locks_nothing(store: Store) -> None:
    """Once a sign-off is taken back its parts are open; once that is taken back too, they are not."""
    job = _signed_job(store)
    store.append(job, NewEvent("withdrawal", "Ann", {}, "back", amends=3))
    store.append(job, readings("before", "r2"))
    store.append(job, NewEvent("withdrawal", "Ann", {}, "after all", amends=4))
    with pytest.raises(SignedOffError):
        store.append(job, readings("before", "r3"))


def test_taking_back_a_withdrawal_touches_what_that_took_back(store: Store) -> None:
    """Through a chain of withdrawals a sign-off still holds what the first of them touched."""
    job = store.create_job(job_file()).job
    store.append(job, readings("before", "r"))
    store.append(job, NewEvent("withdrawal", "Ann", {}, "back", amends=2))
    store.append(job, sign_off("baseline", {"readings before": 0}, "s"))
    with pytest.raises(SignedOffError):
        store.append(job, NewEvent("withdrawal", "Ann", {}, "after all", amends=3))
