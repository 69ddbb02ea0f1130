"""Settings shared by all tests."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings
from reference import benches

# Deadlines are off because the first example pays for imports; slow generation is no fault of the code.
_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("default", max_examples=200, **_COMMON)
settings.register_profile("nightly", max_examples=2000, **_COMMON)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "default"))


@pytest.fixture(scope="session", autouse=True)
def shared_models(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Let all workers of a run share the models they build."""
    base = tmp_path_factory.getbasetemp()
    benches.CACHE[0] = (base.parent if os.environ.get("PYTEST_XDIST_WORKER") else base) / "models"
