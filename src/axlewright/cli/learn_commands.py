"""The commands under `learn`: what the shop's own results teach."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from axlewright import tasks
from axlewright.cli import screens
from axlewright.cli.lines import aside
from axlewright.cli.out import check_out
from axlewright.cli.progress import Progress
from axlewright.cli.written import show_written

learn = typer.Typer(
    help="Let the shop's own results narrow the bands: housings before and after, trials on scrap tube.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

ShopOption = Annotated[
    Path | None,
    typer.Option("--shop", help="The shop file; left out, the one that `learn show` names."),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print JSON instead of tables.")]
JobArgument = Annotated[Path, typer.Argument(help="The job file (TOML).", metavar="JOB.toml")]


@learn.command()
def job(
    job: JobArgument,
    before: Annotated[Path, typer.Option(help="Readings taken before welding.")],
    after: Annotated[Path, typer.Option(help="Readings taken after welding, cold.")],
    plan: Annotated[Path, typer.Option(help="plan.json of the plan it was welded by.")],
    log: Annotated[Path | None, typer.Option(help="The bead log, if one was kept.")] = None,
    name: Annotated[str, typer.Option(help="What to call the result; left out, the job's reference.")] = "",
    date: Annotated[str, typer.Option(help="When it was measured, e.g. 2026-03-01; left out, today.")] = "",
    shop: ShopOption = None,
    json: JsonOption = False,
) -> None:
    """Learn from a housing measured before and after welding."""
    work = tasks.read_job(job)
    housing = tasks.Housing(before, after, plan, log, name, date)
    with Progress() as progress:
        found = tasks.learn_job(work, housing, shop or tasks.shop_path(), tasks.cache_folder(), progress.say)
    _show(found, json, work.inch)


@learn.command()
def trial(
    trial: Annotated[Path, typer.Argument(help="The filled trial file (TOML).", metavar="TRIAL.toml")],
    name: Annotated[str, typer.Option(help="What to call the result; left out, as the file says.")] = "",
    shop: ShopOption = None,
    json: JsonOption = False,
) -> None:
    """Learn from a trial on scrap tube."""
    with Progress() as progress:
        progress.say("reading the trial")
        found = tasks.learn_trial(trial, shop or tasks.shop_path(), name)
    _show(found, json)


@learn.command()
def plan(
    job: JobArgument,
    diameter: Annotated[str, typer.Option(help='Outside diameter of the scrap tube, e.g. 60 or "2 3/8 in".')],
    wall: Annotated[str, typer.Option(help="Its wall.")],
    length: Annotated[str, typer.Option(help="Its length, about a metre.")],
    straightedge: Annotated[
        bool, typer.Option("--straightedge", help="Read with straightedge and feelers instead of a dial.")
    ] = False,
    out: Annotated[Path | None, typer.Option(help="Folder for the sheet and the file to fill in.")] = None,
    shop: ShopOption = None,
) -> None:
    """Plan a half-hour trial on a scrap tube, with the welder of a job."""
    work = tasks.read_job(job)
    if out is not None:
        check_out(out)
    tube: dict[str, object] = {"outside_diameter": diameter, "wall": wall, "length": length}
    with Progress() as progress:
        progress.say("looking for the trial that tells most")
        known = tasks.read_shop(shop or tasks.shop_path())
        found = tasks.plan_scrap_trial(work, tube, straightedge, known)
        progress.say("printing the sheet")
        written = tasks.write_trial(found, work.inch, out) if out is not None else ()
    screens.show_trial(found)
    show_written(out, written, False, "the trial's sheet and the file to fill in")


@learn.command()
def show(shop: ShopOption = None, json: JsonOption = False) -> None:
    """Show what the shop's results teach, and what stands behind it."""
    _show(tasks.read_shop(shop or tasks.shop_path()), json)


@learn.command()
def forget(
    name: Annotated[str, typer.Argument(help="Name of the result, as `learn show` lists it.")],
    shop: ShopOption = None,
) -> None:
    """Take one result out again."""
    _show(tasks.forget(name, shop or tasks.shop_path()), False)


@learn.command()
def reset(shop: ShopOption = None) -> None:
    """Begin anew; the old file is kept beside it."""
    kept = tasks.reset_shop(shop or tasks.shop_path())
    said = (
        "There was nothing to reset." if kept is None else f"Begun anew. The old results are kept in {kept}."
    )
    aside().print(said, soft_wrap=True)


@learn.command()
def export(
    shop: ShopOption = None,
) -> None:
    """Print the shop file, to keep or to share as plain text."""
    sys.stdout.write(tasks.read_shop(shop or tasks.shop_path()).text)


@learn.command(name="import")
def bring_in(
    other: Annotated[Path, typer.Argument(help="Another shop file.", metavar="SHOP.toml")],
    shop: ShopOption = None,
) -> None:
    """Add all results of another shop file; the same result twice counts once."""
    _show(tasks.merge_shop(other, shop or tasks.shop_path()), False)


def _show(found: tasks.Shop, json: bool, inch: bool = False) -> None:
    if json:
        sys.stdout.write(tasks.shop_text(found))
    else:
        screens.show_shop(found, inch)
