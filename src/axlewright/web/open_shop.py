"""What the pages share: the record, the work bench and the companions at the bench."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import cast

from fastapi import Request

from axlewright.record.store import Store
from axlewright.web.companion.companions import Companions
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

    @cached_property
    def companion(self) -> Companions:
        """Who follows the jobs being welded; nothing runs before the first is asked for."""
        return Companions(self.store, self.data)

    def close(self) -> None:
        """End what is done in processes of its own; the record stays open."""
        self.companion.close()
        self.work.close()


def shop_of(request: Request) -> OpenShop:
    """The shop a request belongs to."""
    return cast(OpenShop, request.app.state.shop)
