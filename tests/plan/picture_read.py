"""A view's file read back with nothing but the description in docs/view.md."""

from __future__ import annotations

import gzip
import json
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from plan.planned import common_for
from reference.benches import CACHE, bench_for

from axlewright.job.schema import Job
from axlewright.tasks.viewing import plan_view


@dataclass(frozen=True)
class ReadBack:
    """Header and arrays of a picture."""

    header: dict[str, Any]
    arrays: dict[str, NDArray[Any]]

    def places(self, name: str) -> NDArray[np.float64]:
        """Places in m."""
        place = self.header["place"]
        return np.array(place["from_m"]) + self.arrays[name] * np.array(place["step_m"])

    @property
    def rises(self) -> NDArray[np.float64]:
        """Rise of the skin over ambient at each moment [K], shape (K, V)."""
        return self.arrays["rises"] * self.header["temperature"]["step_k"]


def read_back(data: bytes) -> ReadBack:
    """Header and arrays of a picture's bytes."""
    raw = gzip.decompress(data)
    assert raw[:8] == b"axleview"
    version, length = np.frombuffer(raw[8:16], "<u4").tolist()
    assert version == 1
    header = json.loads(raw[16 : 16 + length])
    arrays = {}
    for name, told in header["arrays"].items():
        kind = np.dtype(told["type"]).newbyteorder("<")
        count = int(np.prod(told["shape"]))
        arrays[name] = np.frombuffer(raw, kind, count, 16 + length + told["at"]).reshape(told["shape"])
    return ReadBack(header, arrays)


@cache
def _viewed(text: str) -> bytes:
    job = Job.model_validate_json(text)
    return plan_view(bench_for(job), common_for(job), CACHE[0])


def viewed(job: Job) -> bytes:
    """The picture of common practice on a job."""
    return _viewed(job.model_dump_json())
