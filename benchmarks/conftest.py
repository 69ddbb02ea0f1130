"""One BLAS thread, as the tool itself runs (docs/decisions/0004)."""

from __future__ import annotations

import pytest
from threadpoolctl import threadpool_limits


@pytest.fixture(autouse=True)
def one_blas_thread():
    """Limit BLAS for the whole benchmark."""
    with threadpool_limits(limits=1, user_api="blas"):
        yield
