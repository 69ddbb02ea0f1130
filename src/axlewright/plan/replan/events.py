"""What happened at the bench, one thing at a time.

Times are seconds from the first arc, tacks included [s]. `where` tells a person which entry is meant, for
example "log.csv line 7"; it stands in messages only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Setting = Literal["volts", "amps", "travel speed", "wire feed"]


@dataclass(frozen=True, kw_only=True)
class _Happened:
    time: float
    where: str = ""


@dataclass(frozen=True, kw_only=True)
class ArcStarted(_Happened):
    """The arc of a bead started.

    Args:
        bead: number of the bead.
        from_s: arc length along the seam where it really started, or None for where the bead begins [m].
        to_s: where it shall end, or None for where the bead ends [m].
        exact: whether the time is known to the second.
    """

    bead: int
    from_s: float | None = None
    to_s: float | None = None
    exact: bool = True


@dataclass(frozen=True, kw_only=True)
class ArcStopped(_Happened):
    """The arc stopped.

    Args:
        bead: number of the bead, or None for the one whose arc is burning.
        from_s: where it really started, or None for what was said before [m].
        to_s: where it really ended, or None for what was meant [m].
        exact: whether the time is known to the second.
    """

    bead: int | None = None
    from_s: float | None = None
    to_s: float | None = None
    exact: bool = True


@dataclass(frozen=True, kw_only=True)
class BeadSkipped(_Happened):
    """A bead will not be laid."""

    bead: int


@dataclass(frozen=True, kw_only=True)
class TackSet(_Happened):
    """A tack was set; `tack` is its number in the order of tacking, from 0."""

    tack: int


@dataclass(frozen=True, kw_only=True)
class TackLeftOut(_Happened):
    """A tack was not set, or has cracked; `tack` is its number in the order of tacking, from 0."""

    tack: int


@dataclass(frozen=True, kw_only=True)
class TacksDone(_Happened):
    """The last tack was set."""


@dataclass(frozen=True, kw_only=True)
class SettingChanged(_Happened):
    """The welding machine was set anew; `value` in V, A or m/s."""

    setting: Setting
    value: float


@dataclass(frozen=True, kw_only=True)
class TemperatureRead(_Happened):
    """A thermometer was read.

    Args:
        temperature: what it showed [degC].
        stretch: number of the stretch whose skin was read, or None.
        place: number of the watch place that was read, or None.
        error: what nineteen readings of twenty are within, or None for the usual [K].
        exact: whether the time is known to the second.
    """

    temperature: float
    stretch: int | None = None
    place: int | None = None
    error: float | None = None
    exact: bool = True


@dataclass(frozen=True, kw_only=True)
class AmbientChanged(_Happened):
    """The air in the shop is at another temperature now [degC]."""

    temperature: float


@dataclass(frozen=True, kw_only=True)
class Turned(_Happened):
    """The housing lies another way now [deg]."""

    turn: float


Event = (
    ArcStarted
    | ArcStopped
    | BeadSkipped
    | TackSet
    | TackLeftOut
    | TacksDone
    | SettingChanged
    | TemperatureRead
    | AmbientChanged
    | Turned
)
