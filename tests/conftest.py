"""Settings shared by all tests."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

# Deadlines are off because the first example pays for imports; slow generation is no fault of the code.
_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("default", max_examples=200, **_COMMON)
settings.register_profile("nightly", max_examples=2000, **_COMMON)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "default"))
