"""The command `serve`: the shop's pages in the browser."""

from __future__ import annotations

import gc
from pathlib import Path
from typing import Annotated

import typer

from axlewright import tasks, web
from axlewright.cli.lines import aside
from axlewright.errors import Fault, OptionError

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
    shop: Annotated[
        bool, typer.Option("--shop", help="Let paired devices of the local network in, too.")
    ] = False,
    certificate: Annotated[
        Path | None, typer.Option(help="With --shop: the shop's own certificate (PEM), for HTTPS.")
    ] = None,
    key: Annotated[
        Path | None, typer.Option(help="With --shop: the certificate's private key (PEM).")
    ] = None,
) -> None:
    """Open the shop in the browser: jobs, plans, checks and sheets. Without --shop, only this machine can reach it."""
    if (certificate or key) and not shop:
        raise OptionError(
            Fault(
                "certificate", "", "is for other devices, who are not let in", "Add --shop, or leave it out."
            )
        )
    # While the pages are fetched, much is made and nothing thrown away: looking for litter costs a tenth of the start.
    gc.disable()
    open_shop, shop_wide = web.serve, web.ShopWide
    gc.enable()
    wide = shop_wide(certificate, key) if shop else None
    open_shop(data or tasks.data_folder(), port, browser, _say, wide)


def _say(words: str) -> None:
    aside().print(words, soft_wrap=True, highlight=False)
