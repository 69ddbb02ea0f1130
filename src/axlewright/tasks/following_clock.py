"""Seconds from the first arc as moments of the clock, and back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from axlewright.plan.replan.answer import Moments
from axlewright.plan.replan.standing import Standing

DAY = 86400.0


def as_log_time(moment: datetime) -> str:
    """A moment as a bead log writes its times, UTC with the date."""
    return f"{moment.astimezone(UTC):%Y-%m-%d %H:%M:%S}"


def as_moment(moment: datetime) -> str:
    """A moment as answers have it: UTC, to the second."""
    return f"{moment.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"


@dataclass(frozen=True)
class BenchClock:
    """The clock of the machine that keeps the record, and seconds from the first arc.

    Args:
        now: the present, seconds from the first arc [s].
        moment: the present by the clock.
    """

    now: float
    moment: datetime

    @classmethod
    def of(cls, told: Moments, standing: Standing, moment: datetime, ahead: timedelta) -> BenchClock:
        """The clock of a log.

        Args:
            told: the log with its times from the first arc.
            standing: where things stand after it.
            moment: the present.
            ahead: how far the log's times run ahead of the clock.
        """
        if told.zero is None or not told.events:
            return cls(standing.now, moment)
        now = (moment + ahead).astimezone(UTC)
        midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
        seconds = DAY * now.toordinal() + (now - midnight).total_seconds()
        return cls(max(seconds - told.zero, *(event.time for event in told.events)), moment)

    def at(self, seconds: float | None, now: float | None = None, later: float = 0.0) -> str | None:
        """The moment that a time from the first arc is, by the clock; None for None.

        Args:
            seconds: from the first arc [s].
            now: the present on the scale of `seconds`, where it is another [s].
            later: what comes on top [s].
        """
        if seconds is None:
            return None
        after = seconds - (self.now if now is None else now) + later
        # To the nearest second: a log has whole ones, and differences of long times are not exact.
        return as_moment(self.moment + timedelta(seconds=after + 0.5))
