"""What the pages share: the record and the work bench."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import cast

from fastapi import Request

from axlewright.record.store import Store
from axlewright.web.work.bench import WorkBench


@dataclass(frozen=True)
class OpenShop:
    """An opened shop.

    Args:
        store: the record.
        work: where long work is done.
        data: folder of the shop's data.
    """

    store: Store
    work: WorkBench
    data: Path


def shop_of(request: Request) -> OpenShop:
    """The shop a request belongs to."""
    return cast(OpenShop, request.app.state.shop)
