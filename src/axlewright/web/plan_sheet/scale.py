"""Scales of drawings: values to places, and steps that are easy to read."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Scale:
    """A straight scale.

    Args:
        low: value at `start`.
        high: value at `end`; above `low`.
        start: place of the low end.
        end: place of the high end.
    """

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Place of a value."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def nice_ticks(
    low: float, high: float, most: int, steps: tuple[float, ...] = (1.0, 2.0, 5.0)
) -> tuple[float, ...]:
    """Steps between two values, at most so many, at one of `steps` times a power of ten."""
    if high <= low:
        return (low,)
    power = 10.0 ** math.floor(math.log10((high - low) / most))
    sizes = [step * power * ten for ten in (1.0, 10.0, 100.0) for step in steps]
    for size in sorted(sizes):
        first, last = math.ceil(low / size - 1e-9), math.floor(high / size + 1e-9)
        if last - first + 1 <= most:
            return tuple(round(size * n, 10) for n in range(first, last + 1))
    return (low,)
