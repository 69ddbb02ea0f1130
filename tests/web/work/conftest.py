"""One shop for the tests of a module, its processes kept warm."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from reference import benches as models
from web.work.benches import Shop, opened


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """An opened shop; the processes find the tests' own models and a shop without results."""
    with pytest.MonkeyPatch.context() as patch:
        place = tmp_path_factory.mktemp("shop")
        patch.setenv("AXLEWRIGHT_CACHE", str(models.CACHE[0] or place / "models"))
        patch.setenv("AXLEWRIGHT_SHOP", str(place / "shop.toml"))
        patch.delenv("AXLEWRIGHT_DB", raising=False)
        found = opened(place / "data")
        found.work.warm()
        yield found
        found.work.close()
        found.store.close()


@pytest.fixture
def data(shop: Shop, tmp_path: Path) -> Path:
    """A folder for another shop beside the usual one."""
    return tmp_path / "data"
