"""The command line: `axlewright plan JOB.toml`, `axlewright replan JOB.toml LOG.csv`, `axlewright demo`."""

from __future__ import annotations

import sys
import tempfile
import traceback
from pathlib import Path
from typing import Annotated, TextIO

import typer

from axlewright import __version__, tasks
from axlewright.cli import screens
from axlewright.cli.learn_commands import ShopOption, learn
from axlewright.cli.lines import aside
from axlewright.cli.out import check_out
from axlewright.cli.progress import Progress
from axlewright.cli.record_commands import record
from axlewright.cli.serve_command import serve
from axlewright.cli.straight_commands import correct, straightness
from axlewright.cli.written import show_demos, show_written
from axlewright.errors import AxlewrightError

SEARCH_SECONDS = 20.0
"""Longest time to search unless told otherwise [s], as `plan.search.search` has it."""

NOT_AS_DESCRIBED = 2
"""Exit code when a file or an option is wrong."""

app = typer.Typer(
    help="Plans the welding of reinforcements onto a solid front axle housing, bead by bead.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


@app.command()
def plan(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", metavar="JOB.toml")],
    out: Annotated[Path | None, typer.Option(help="Folder for plan.json, drawings and work sheets.")] = None,
    json: Annotated[bool, typer.Option("--json", help="Print plan.json instead of the table.")] = False,
    tables: Annotated[bool, typer.Option("--tacks", help="List every tack as well.")] = False,
    reasons: Annotated[bool, typer.Option("--why", help="List why each bead is next.")] = False,
    choose: Annotated[
        int | None,
        typer.Option(help="Number of the plan to take from the trade-off; left out, the recommended one."),
    ] = None,
    seconds: Annotated[
        float,
        typer.Option(
            min=1.0, max=3600.0, help="Longest time to search; Ctrl+C stops earlier and keeps the best."
        ),
    ] = SEARCH_SECONDS,
    shop: ShopOption = None,
) -> None:
    """Plan a job: which bead next, how long to wait, how hot, and the shape the housing will have."""
    work = tasks.read_job(job)
    if out is not None:
        check_out(out)
    with Progress() as progress:
        report = tasks.plan_job(
            work,
            tasks.cache_folder(),
            progress.say,
            tasks.Search(seconds=seconds),
            choose,
            tasks.shop_factors(shop),
        )
        written = tasks.write_plan(report, out, progress.say) if out is not None else ()
    if json:
        sys.stdout.write(tasks.plan_text(report))
    else:
        screens.show_plan(report, tables, reasons)
    show_written(out, written, json)


@app.command()
def replan(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", metavar="JOB.toml")],
    log: Annotated[Path, typer.Argument(help="The bead log (CSV).", metavar="LOG.csv")],
    plan: Annotated[
        Path | None, typer.Option(help="plan.json of the plan begun with; left out, it is made again.")
    ] = None,
    at: Annotated[
        str | None, typer.Option(help="The time now, as the log writes it; left out, its last entry.")
    ] = None,
    shop: ShopOption = None,
    out: Annotated[Path | None, typer.Option(help="Folder for replan.json.")] = None,
    json: Annotated[bool, typer.Option("--json", help="Print replan.json instead of the tables.")] = False,
) -> None:
    """Follow a bead log: where things stand, the next bead and its wait, and the best way on from here."""
    work = tasks.read_job(job)
    if out is not None:
        check_out(out)
    known = tasks.shop_factors(shop)
    with Progress() as progress:
        report = tasks.replan_job(work, log, plan, at, tasks.cache_folder(), progress.say, known)
        written = tasks.write_replan(report, out) if out is not None else ()
    screens.show_faults(report)
    if json:
        sys.stdout.write(tasks.replan_text(report))
    else:
        screens.show_replan(report, known)
    if out is not None:
        show_written(out, written, json)


app.command()(serve)
app.command()(straightness)
app.command()(correct)
app.add_typer(learn, name="learn")
app.add_typer(record, name="record")


@app.command()
def demo(
    name: Annotated[str | None, typer.Argument(help="Which one to print.", metavar="NAME")] = None,
    readings: Annotated[
        str | None, typer.Option(help="Print its straightness readings instead: before or after.")
    ] = None,
) -> None:
    """List the demo jobs, or print the job file of one, or its straightness readings."""
    if name is None:
        show_demos(tasks.demo_names())
    elif readings is not None:
        sys.stdout.write(tasks.demo_readings(name, readings))
    else:
        sys.stdout.write(tasks.demo_text(name))


@app.command()
def version() -> None:
    """Print the version."""
    sys.stdout.write(f"axlewright {__version__}\n")


def run() -> None:
    """Entry point: every error becomes a message, never a traceback."""
    _speak_utf8(sys.stdout, sys.stderr)
    try:
        app(prog_name="axlewright")
    except AxlewrightError as error:
        _complain(str(error))
        sys.exit(NOT_AS_DESCRIBED)
    except Exception:
        _complain(
            "Something broke inside axlewright. Your job file is untouched. "
            f"What happened is written in {_keep_trace()}; please send it with your job file."
        )
        sys.exit(1)


def _speak_utf8(*streams: TextIO) -> None:
    for stream in streams:
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")


def _complain(message: str) -> None:
    # Unbroken lines, so that a path in a message can be copied whole.
    aside().print(message, style="bold", soft_wrap=True)


def _keep_trace() -> str:
    with tempfile.NamedTemporaryFile(
        "w", prefix="axlewright-", suffix=".txt", delete=False, encoding="utf-8"
    ) as file:
        traceback.print_exc(file=file)
    return file.name
