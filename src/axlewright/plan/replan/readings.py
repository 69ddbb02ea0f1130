"""Whether a thermometer reading can be true, and in which words it is doubted."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.plan.replan.thermometer import Estimate, surplus_spread
from axlewright.solid.mesh import Floats

USUAL_ERROR = 5.0
"""What nineteen of twenty readings of a shop's infrared thermometer on brushed steel are within, a judgement [K]."""

MODEL_ERROR = (1.0, 0.03)
"""What the reduced model itself may be off by, as a constant [K] and a share of the rise [1] (docs/theory/heat.md)."""

SUSPICIOUS = 4.0
"""A reading this many standard deviations from what is expected is not believed [1]."""

BELIEVED = 2.5
"""One that another unit would bring this near is explained by it [1]."""

TOO_SOON = 15.0
"""Within this time of an arc beside it the model is not meant to be read [s]."""


@dataclass(frozen=True)
class Checked:
    """A reading beside what was expected of it.

    Args:
        time: seconds from the first arc [s].
        stretch: number of the stretch that was read, or None.
        place: number of the watch place that was read, or None.
        read_c: what the thermometer showed [degC].
        expected_c: what was expected from everything before it [degC].
        spread: standard deviation of the difference as foreseen [K].
        used: whether it corrects the state.
        doubt: why not, in words, or "".
        where: entry of the log, for messages.
    """

    time: float
    stretch: int | None
    place: int | None
    read_c: float
    expected_c: float
    spread: float
    used: bool
    doubt: str
    where: str


def reading_variance(error: float | None, rise: float) -> float:
    """Variance of a reading about the state: the thermometer's own and the model's [K2].

    Args:
        error: what nineteen readings of twenty are within, two standard deviations, or None for the usual [K].
        rise: expected rise over ambient [K].
    """
    constant, share = MODEL_ERROR
    own = (USUAL_ERROR if error is None else error) / 2
    return own**2 + constant**2 + (share * rise) ** 2


def doubt(estimate: Estimate, row: Floats, variance: float, ambient: float, read_c: float) -> str:
    """Why a reading is not believed, or "" where it is.

    Args:
        estimate: what is known before it.
        row: what the thermometer reads of the state [1].
        variance: of the reading's error [K2].
        ambient: temperature of the air [degC].
        read_c: what it showed [degC].
    """
    expected = ambient + float(row @ estimate.state)
    spread = surplus_spread(estimate, row, variance)

    def away(value: float) -> float:
        return abs(value - expected) / spread

    if away(read_c) <= SUSPICIOUS:
        return ""
    if away((read_c - 32.0) / 1.8) <= BELIEVED:
        return "it fits as degF: it looks like degF written as degC"
    if away(read_c * 1.8 + 32.0) <= BELIEVED:
        return "it fits as degC: it looks like degC written as degF"
    if read_c > expected:
        return "far too hot; perhaps the bead itself, the hot nozzle, or another place"
    return "far too cold; perhaps bare shining metal, the air past the housing, or another place"
