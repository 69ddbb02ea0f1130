"""The command `serve`: the shop's pages in the browser."""

from __future__ import annotations

import gc
from pathlib import Path
from typing import Annotated

import typer

from axlewright import tasks, web
from axlewright.cli.lines import aside

PORT = 8090


def serve(
    port: Annotated[
        int, typer.Option(min=0, max=65535, help="Port to listen at; 0 takes any free one.")
    ] = PORT,
    data: Annotated[
        Path | None,
        typer.Option(help="Folder of the shop's data; left out, AXLEWRIGHT_DATA or the user's own."),
    ] = None,
    browser: Annotated[bool, typer.Option(help="Open the browser of this machine.")] = True,
) -> None:
    """Open the shop in the browser: jobs, plans, checks and sheets. Only this machine can reach it."""
    # While the pages are fetched, much is made and nothing thrown away: looking for litter costs a tenth of the start.
    gc.disable()
    open_shop = web.serve
    gc.enable()
    open_shop(data or tasks.data_folder(), port, browser, _say)


def _say(words: str) -> None:
    aside().print(words, soft_wrap=True, highlight=False)
