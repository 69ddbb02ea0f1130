"""What a plan's figures depend on, and what the shop's own results have to do with it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

_TOLD = {
    "distortion": "distortion",
    "hottest_spot": "hottest spot",
    "tack_load": "tack load",
    "bearing_seat": "bearing seat",
    "seal": "seal",
}
_SHOWN = 3
_SEEN = 0.02


@dataclass(frozen=True)
class Share:
    """An input and its share of a figure's scatter, 0 to 100."""

    words: str
    percent: int


@dataclass(frozen=True)
class Matter:
    """A figure and the inputs it depends on most, largest first; the last is all others together."""

    figure: str
    shares: tuple[Share, ...]


@dataclass(frozen=True)
class FactorRow:
    """A factor of the shop: before and now, low, middle and high."""

    words: str
    before: str
    now: str


@dataclass(frozen=True)
class ShopView:
    """The shop's own results behind a plan: how many, in words, and what they say."""

    words: str
    factors: tuple[FactorRow, ...]


def matters(sure: Any) -> tuple[Matter, ...]:
    """What matters most, for the figures that are told; empty where it was not worked out."""
    if sure is None:
        return ()
    found = {one["figure"]: one["shares"] for one in sure["matters"]}
    return tuple(_matter(words, found[name]) for name, words in _TOLD.items() if name in found)


def _matter(words: str, shares: dict[str, float]) -> Matter:
    ranked = sorted(shares.items(), key=lambda pair: -pair[1])
    shown = [(name, share) for name, share in ranked[:_SHOWN] if share >= _SEEN]
    rest = max(0.0, 1.0 - sum(share for _, share in shown))
    pairs = [*shown, ("all others, and together", rest)]
    return Matter(words, tuple(Share(name, round(100.0 * share)) for name, share in pairs))


def shop_view(sure: Any) -> ShopView | None:
    """The shop's own results behind a plan; None where how sure it is was not worked out."""
    if sure is None:
        return None
    shop = sure["shop"]
    counts = (
        (shop["jobs"], "housing measured before and after", "housings measured before and after"),
        (shop["trials"], "trial on scrap tube", "trials on scrap tube"),
        (shop["logs"], "log with temperatures", "logs with temperatures"),
    )
    told = [f"{count} {one if count == 1 else many}" for count, one, many in counts if count]
    if not told:
        return ShopView("", ())
    rows = tuple(FactorRow(f["words"], _reach(f["before"]), _reach(f["now"])) for f in shop["factors"])
    return ShopView(", ".join(told), rows)


def _reach(reach: Any) -> str:
    return f"{reach['middle']:.2f} ({reach['low']:.2f} to {reach['high']:.2f})"
