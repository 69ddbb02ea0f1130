"""The commands under `record`: jobs as archives, and backups of the whole record."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from axlewright import tasks
from axlewright.cli import screens
from axlewright.cli.lines import aside
from axlewright.errors import RecordError

record = typer.Typer(
    help="The record of the jobs: list it, carry a job to another shop, back it up, bring it back.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

DataOption = Annotated[
    Path | None,
    typer.Option("--data", help="Folder of the shop's data; left out, AXLEWRIGHT_DATA or the user's own."),
]


@record.command(name="list")
def list_jobs(data: DataOption = None) -> None:
    """List the jobs: id, reference, name, stage, what waits, and what happened last."""
    with tasks.opened_record(_folder(data)) as store:
        screens.show_jobs(tasks.job_list(store))


@record.command()
def export(
    job: Annotated[str, typer.Argument(help="Its id, the beginning of it, or its reference.", metavar="JOB")],
    out: Annotated[
        Path | None, typer.Option(help="The archive to write; left out, named after the job, in this folder.")
    ] = None,
    data: DataOption = None,
) -> None:
    """Write a job as one archive that anybody can read: text, tables, pictures."""
    with tasks.opened_record(_folder(data)) as store:
        line = tasks.find_job(store, job)
        path = tasks.write_archive_file(store, line.job, out or Path(tasks.archive_name(line)))
    _say(f"Wrote {line.name or line.job} to {path}")


@record.command(name="import")
def bring_in(
    file: Annotated[Path, typer.Argument(help="The archive of a job.", metavar="ARCHIVE.zip")],
    data: DataOption = None,
) -> None:
    """Take a job in from its archive; of a job that is there already, the further events."""
    with tasks.opened_record(_folder(data), new=True) as store:
        found = tasks.take_in_file(store, file)
    _say(f"Took in {found.new} new events of {found.events}, job {found.job}")


@record.command()
def backup(
    out: Annotated[Path | None, typer.Option(help="Another folder for it than the data folder's.")] = None,
    data: DataOption = None,
) -> None:
    """Make a backup of the whole record, also while the pages are open."""
    folder = _folder(data)
    with tasks.opened_record(folder) as store:
        _say(f"Wrote {tasks.make_backup(store, folder, out)}")


@record.command()
def restore(
    file: Annotated[Path, typer.Argument(help="The backup.", metavar="BACKUP.db")],
    data: DataOption = None,
) -> None:
    """Bring a backup back. The record that is there is moved aside, never deleted."""
    aside_now = tasks.restore_backup(file, _folder(data))
    kept = "" if aside_now is None else f" What was there is kept in {aside_now}."
    _say(f"The record is as it was in {file}.{kept}")


@record.command()
def verify(data: DataOption = None) -> None:
    """Look through the whole record: every event and document against its digest."""
    with tasks.opened_record(_folder(data)) as store:
        faults, jobs = store.verify(), len(store.jobs())
    if faults:
        raise RecordError(*faults)
    counted = "1 job" if jobs == 1 else f"{jobs} jobs"
    _say(f"Nothing is wrong: {counted}, every event and document is as it was written.")


def _folder(data: Path | None) -> Path:
    return data or tasks.data_folder()


def _say(words: str) -> None:
    # Unbroken, so that a path can be copied whole.
    aside().print(words, soft_wrap=True)
