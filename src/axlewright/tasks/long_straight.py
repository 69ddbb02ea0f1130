"""Long work on straightness: judging readings, and what brings a housing back."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from axlewright.job.reading import parse_job
from axlewright.job.schema import Job
from axlewright.record.events import Document
from axlewright.straightness.files import parse_correction
from axlewright.straightness.readings.file import parse_readings
from axlewright.straightness.readings.reading import ReadingSet
from axlewright.straightness.readings.text import decoded
from axlewright.tasks.checking import Checked, checked
from axlewright.tasks.learning import shop_factors
from axlewright.tasks.long_asked import CORRECTION, LongWork, ReadingsFile, Worked
from axlewright.tasks.long_files import documents_of
from axlewright.tasks.long_watch import Watch
from axlewright.tasks.straightening import Asked, correct_after, write_correction, write_straightness
from axlewright.tasks.texts import JOB_FILE

MOST_WORDS = 4000
"""What the words of an event may have, in letters."""

DRAWING = "drawing and printing"


def check(work: LongWork, cache: Path | None, watch: Watch) -> Worked:
    """Judge readings.

    Raises:
        ReadingsError: nothing of a set can be used, or it does not tell anything.
    """
    found = _checked(work, watch)
    verdict = found.report.verdict
    return Worked(
        {"answer": verdict.answer, "words": verdict.words[:MOST_WORDS]},
        _written(lambda folder: write_straightness(found, folder), watch),
    )


def correct(work: LongWork, cache: Path | None, watch: Watch) -> Worked:
    """Work out what to do about the shape last measured.

    Raises:
        GeometryError: the dimensions do not make a body.
        ReadingsError: nothing of a set can be used, or an earlier correction cannot be read.
    """
    found, options = _checked(work, watch), work.options
    earlier = tuple(parse_correction(text, CORRECTION) for text in work.earlier)
    asked = Asked(options.ways, options.cycle, options.cracked)
    report = correct_after(found, asked, earlier, cache, watch.stage, shop_factors())
    body = {
        "decision": report.decision,
        "recommended": report.recommended,
        "cycle": report.cycle,
        "words": " ".join(report.why)[:MOST_WORDS],
    }
    return Worked(body, _written(lambda folder: write_correction(found.job, report, folder), watch))


def _checked(work: LongWork, watch: Watch) -> Checked:
    watch.stage("reading the readings")
    job = parse_job(work.job_text, JOB_FILE)
    before, after = (_readings(one, job) for one in (work.before, work.after))
    watch.stage("finding the shape")
    return checked(job, before, after)


def _readings(kept: ReadingsFile | None, job: Job) -> ReadingSet | None:
    return None if kept is None else parse_readings(decoded(kept.data, kept.name), kept.name, job)


def _written(write: Callable[[Path], tuple[Path, ...]], watch: Watch) -> tuple[Document, ...]:
    watch.stage(DRAWING)
    with TemporaryDirectory() as folder:
        return documents_of(write(Path(folder)))
