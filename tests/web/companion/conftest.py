"""A served shop with companions in real processes, which find the tests' own models and a shop without results."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from reference import benches as models
from web.companion.served_bench import ServedBench, served_bench


@pytest.fixture(scope="module")
def places(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Where processes keep models, and know that the shop has learned nothing."""
    with pytest.MonkeyPatch.context() as patch:
        place = tmp_path_factory.mktemp("bench")
        patch.setenv("AXLEWRIGHT_CACHE", str(models.CACHE[0] or place / "models"))
        patch.setenv("AXLEWRIGHT_SHOP", str(place / "shop.toml"))
        patch.delenv("AXLEWRIGHT_DB", raising=False)
        yield place


@pytest.fixture(scope="module")
def served(places: Path) -> Iterator[ServedBench]:
    """A shop that is served, for the tests of a module."""
    with served_bench(places / "data") as shop:
        yield shop
