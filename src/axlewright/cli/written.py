"""What the terminal says of files written and of the demo jobs."""

from __future__ import annotations

from pathlib import Path

from axlewright.cli.lines import aside, output, put_lines


def show_written(
    folder: Path | None,
    paths: tuple[Path, ...],
    only_json: bool,
    more: str = "the work sheet, drawings and plan.json",
) -> None:
    """Say on standard error what was written, or how to get more than the screen shows."""
    console = aside()
    if folder is not None:
        names = ", ".join(path.name for path in paths)
        console.print(f"Wrote {len(paths)} files in {folder}: {names}", style="dim", soft_wrap=True)
    elif not only_json:
        hint = f"Nothing was written. Add --out FOLDER for {more}."
        console.print(hint, style="dim", soft_wrap=True)


def show_demos(names: tuple[str, ...]) -> None:
    """List the demo jobs, and say on standard error how to print one."""
    put_lines(output(), list(names))
    aside().print("Print one with: axlewright demo NAME > my-job.toml", style="dim", soft_wrap=True)
