"""What the terminal shows of the jobs in a record."""

from __future__ import annotations

from axlewright.cli.lines import aside, output, put_table, table
from axlewright.sheets.plain_text import clean
from axlewright.tasks.archives import JobInList


def show_jobs(jobs: tuple[JobInList, ...]) -> None:
    """Print the jobs, the one last told of first."""
    if not jobs:
        aside().print("There is no job in this record yet.")
        return
    made = table("id", "reference", "job", "stage", "last", folds=2, right=())
    for one in jobs:
        last = one.line.last
        when = f"{last.at.astimezone():%Y-%m-%d %H:%M} {clean(last.kind)}"
        made.add_row(one.line.job[:8], clean(one.line.reference), clean(one.line.name), one.stage, when)
    put_table(output(), made)
