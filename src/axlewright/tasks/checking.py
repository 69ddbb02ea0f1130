"""Is the housing straight?"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from axlewright.errors import Fault, OptionError
from axlewright.job.schema import Job
from axlewright.straightness.check import straightness_report
from axlewright.straightness.readings.file import read_readings
from axlewright.straightness.readings.reading import ReadingSet
from axlewright.straightness.report import StraightnessReport


@dataclass(frozen=True)
class Checked:
    """A check with what it was made from.

    Args:
        job: the job.
        before: readings before the work, if any.
        after: readings after it, if any.
        report: what they tell.
    """

    job: Job
    before: ReadingSet | None
    after: ReadingSet | None
    report: StraightnessReport

    @property
    def latest(self) -> ReadingSet:
        """The readings the verdict is on."""
        found = self.after or self.before
        assert found is not None, "a check stands on at least one set"
        return found

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Lines of both files that could not be used."""
        return tuple(fault for one in (self.before, self.after) if one is not None for fault in one.faults)


def check_straightness(job: Job, after: Path | None, before: Path | None) -> Checked:
    """Whether a housing is straight, from files of readings before and after the work, or one of both.

    Raises:
        OptionError: neither file is given.
        ReadingsError: nothing of a file can be used, or it does not tell anything.
    """
    if after is None and before is None:
        allowed = "a check needs at least one file of readings"
        raise OptionError(Fault("READINGS", "missing", allowed, "Ask for a blank form with --form"))
    sets = [None if path is None else read_readings(path, job) for path in (before, after)]
    return checked(job, sets[0], sets[1])


def checked(job: Job, before: ReadingSet | None, after: ReadingSet | None) -> Checked:
    """Whether a housing is straight, from readings that have been read.

    Raises:
        ReadingsError: there is no set, or one without a reading.
    """
    return Checked(job, before, after, straightness_report(job, before, after))
