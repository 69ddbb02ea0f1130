"""The commands `straightness` and `correct`."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from axlewright import tasks
from axlewright.cli import screens
from axlewright.cli.learn_commands import ShopOption
from axlewright.cli.lines import aside
from axlewright.cli.out import check_out
from axlewright.cli.progress import Progress
from axlewright.cli.written import show_written
from axlewright.errors import Fault, OptionError
from axlewright.sheets.plain_text import clean

JobArgument = Annotated[Path, typer.Argument(help="The job file (TOML).", metavar="JOB.toml")]
After = Annotated[
    Path | None, typer.Argument(help="Readings, the latest ones (CSV or TOML).", metavar="[READINGS]")
]
Before = Annotated[Path | None, typer.Option(help="Readings taken before the work, CSV or TOML.")]


class Ways(StrEnum):
    """Ways to straighten, as they are asked for."""

    BEADS = "counter-beads"
    HEAT = "heat-lines"
    PRESS = "press"
    ALL = "all"


WAYS: dict[Ways, tuple[tasks.Way, ...]] = {
    Ways.BEADS: ("counter-beads",),
    Ways.HEAT: ("heat lines",),
    Ways.PRESS: ("press",),
    Ways.ALL: ("counter-beads", "heat lines", "press"),
}


def straightness(
    job: JobArgument,
    readings: After = None,
    before: Before = None,
    form: Annotated[bool, typer.Option("--form", help="Write a blank form to --out instead.")] = False,
    out: Annotated[
        Path | None, typer.Option(help="Folder for straightness.json, drawing and sheets.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print straightness.json instead of tables.")] = False,
) -> None:
    """Is the housing straight? From readings to camber, toe and bow, with a verdict and what to read next."""
    work = tasks.read_job(job)
    if form:
        _write_form(work, out)
        return
    checked = tasks.check_straightness(work, readings, before)
    if out is not None:
        check_out(out)
        with Progress() as progress:
            progress.say("drawing and printing")
            written = tasks.write_straightness(checked, out)
    else:
        written = ()
    _show_faults(checked.faults)
    if json:
        sys.stdout.write(tasks.straightness_text(checked.report))
    else:
        screens.show_straightness(checked.report)
    show_written(out, written, json, "the filled measuring sheet, the drawing and straightness.json")


def _write_form(work: tasks.Job, out: Path | None) -> None:
    if out is None:
        allowed = "a blank form needs a folder to be written to"
        raise OptionError(Fault("--form", "", allowed, "Add --out FOLDER"))
    check_out(out)
    with Progress() as progress:
        progress.say("printing the blank form")
        written = tasks.write_form(work, out)
    show_written(out, written, False)


def correct(
    job: JobArgument,
    readings: After = None,
    before: Before = None,
    bare: Annotated[
        bool, typer.Option("--bare", help="Nothing is welded on yet: straighten the bare housing.")
    ] = False,
    way: Annotated[Ways, typer.Option(help="Which way to straighten to look at.")] = Ways.ALL,
    cycle: Annotated[
        int, typer.Option(min=1, max=9, help="Which correction of this housing it would be, from 1.")
    ] = 1,
    cracked: Annotated[
        bool, typer.Option("--cracked", help="A crack was found in a weld or a wall.")
    ] = False,
    earlier: Annotated[
        list[Path] | None,
        typer.Option(help="correction.json of an earlier correction; may stand several times."),
    ] = None,
    shop: ShopOption = None,
    out: Annotated[Path | None, typer.Option(help="Folder for correction.json, drawing and sheets.")] = None,
    json: Annotated[bool, typer.Option("--json", help="Print correction.json instead of tables.")] = False,
) -> None:
    """What brings the housing back: counter-beads, heat lines, a press, or nothing."""
    work = tasks.read_job(job)
    if out is not None:
        check_out(out)
    checked = tasks.check_straightness(work.bare if bare else work, readings, before)
    asked = tasks.Asked(WAYS[way], cycle, cracked, tuple(earlier or ()))
    with Progress() as progress:
        report = tasks.correct(checked, asked, tasks.cache_folder(), progress.say, tasks.shop_factors(shop))
        progress.say("drawing and printing")
        written = tasks.write_correction(checked.job, report, out) if out is not None else ()
    _show_faults(checked.faults)
    if json:
        sys.stdout.write(tasks.correction_text(report))
    else:
        screens.show_correction(report)
    show_written(out, written, json, "the correction sheet, the drawing and correction.json")


def _show_faults(faults: tuple[Fault, ...]) -> None:
    """Say on standard error which lines were not used."""
    if not faults:
        return
    console = aside()
    count = len(faults)
    heading = f"{count} {'line' if count == 1 else 'lines'} of the readings cannot be used; the rest is:"
    console.print(heading, style="bold", soft_wrap=True)
    for fault in faults:
        console.print(f"  - {clean(str(fault))}", soft_wrap=True)
