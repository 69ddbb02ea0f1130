"""The answer to "where does this come from?", ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass, replace

from axlewright.errors import Fault, RecordError
from axlewright.sheets import wording
from axlewright.tasks.whence.arithmetic import names_in, worked_out, written_out
from axlewright.tasks.whence.entries import Figure, Input, figure_named
from axlewright.tasks.whence.facts import Facts
from axlewright.tasks.whence.found import Found, in_shop_words
from axlewright.tasks.whence.places import place_of, table_at, unit_at

_SIGNS = {"eta": "η", "alpha": "α", "beta": "β", "gamma": "γ", "lambda": "λ", "delta": "δ", "sigma": "σ"}


@dataclass(frozen=True)
class InputLine:
    """One thing a figure is worked out from.

    Args:
        symbol: what the formula calls it, or "".
        lower: what stands lower behind the symbol, or "".
        words: what it is.
        shown: its value with its unit, as the formula has it.
        shop: the value as the shop writes it, where that reads otherwise.
        where: where it stands.
        figure: id of the figure that explains it further, or "".
    """

    symbol: str
    lower: str
    words: str
    shown: str
    shop: str
    where: str
    figure: str


@dataclass(frozen=True)
class Answer:
    """Where a figure comes from.

    Args:
        figure: the figure as the TOML file has it.
        value: the figure itself as the shop reads it, or "".
        band: from what it stays below in 10 to what it stays below in 90 of a hundred cases, or "".
        worked: the formula with its values and what comes out, or "".
        inputs: what it is worked out from.
    """

    figure: Figure
    value: str
    band: str
    worked: str
    inputs: tuple[InputLine, ...]


def where_from(name: str, facts: Facts) -> Answer:
    """Where a figure of a job comes from.

    Args:
        name: id of the figure.
        facts: the job and its results.

    Raises:
        RecordError: there is no such figure, or a result it needs is not in the record.
    """
    figure = figure_named(name)
    try:
        return _answer(figure, facts)
    except (LookupError, TypeError) as error:
        allowed = "cannot be told from this result: it is not as this version of axlewright writes it"
        raise RecordError(Fault(figure.title, "", allowed, "Make the result again.")) from error


def _answer(figure: Figure, facts: Facts) -> Answer:
    found = {one.words: _found(one, facts) for one in figure.inputs}
    lines = tuple(_line(one, found[one.words], facts.job.inch) for one in figure.inputs)
    itself = value_of(figure, facts)
    value = "" if itself is None else in_shop_words(itself, facts.job.inch)
    return Answer(figure, value, _band(figure, facts), _worked(figure, found), lines)


def in_short(name: str, facts: Facts) -> tuple[str, str]:
    """Title of a figure, and the figure itself as the shop reads it.

    Args:
        name: id of the figure.
        facts: the job and its results.

    Raises:
        RecordError: there is no such figure, or a result it needs is not in the record.
    """
    figure = figure_named(name)
    itself = value_of(figure, facts)
    return figure.title, "" if itself is None else in_shop_words(itself, facts.job.inch)


def value_of(figure: Figure, facts: Facts) -> Found | None:
    """The figure itself: as it stands in the record, or as worked out; None where neither is told."""
    if figure.value:
        return place_of(facts, figure.value).into(figure.unit)
    result = outcome(figure, facts)
    return None if result is None else Found(result, figure.unit)


def outcome(figure: Figure, facts: Facts) -> float | None:
    """What the figure's arithmetic gives, in its unit; None where it has none or a value is left out."""
    if not figure.arithmetic:
        return None
    needed = names_in(figure.arithmetic)
    found = {one.symbol: _found(one, facts) for one in figure.inputs if one.symbol in needed}
    if any(one.value is None for one in found.values()):
        return None
    return worked_out(figure.arithmetic, {symbol: one.number for symbol, one in found.items()})


def _found(one: Input, facts: Facts) -> Found:
    first, _, rest = one.place.partition(".")
    if first == "constant":
        return Found(one.value, one.unit, one.note)
    if first == "figure":
        other = figure_named(rest)
        result = value_of(other, facts)
        found = Found(None) if result is None else result
        return replace(found, where=f"worked out: {other.title.lower()}", figure=rest).into(one.unit)
    found = place_of(facts, one.place).into(one.unit)
    return replace(found, where=f"{found.where}; {one.note}") if one.note else found


def _line(one: Input, found: Found, inch: bool) -> InputLine:
    symbol, _, lower = one.symbol.partition("_")
    shop = wording.typeset(found.shop) if found.shop else in_shop_words(found, inch) if inch else ""
    return InputLine(
        _SIGNS.get(symbol, symbol),
        lower.replace("_", ", "),
        one.words,
        found.shown,
        "" if shop == found.shown else shop,
        found.where,
        found.figure,
    )


def _worked(figure: Figure, found: dict[str, Found]) -> str:
    if not figure.arithmetic:
        return ""
    by_symbol = {one.symbol: found[one.words] for one in figure.inputs if one.symbol}
    needed = {name: by_symbol[name] for name in names_in(figure.arithmetic)}
    if any(one.value is None for one in needed.values()):
        return ""
    result = worked_out(figure.arithmetic, {name: one.number for name, one in needed.items()})
    text = written_out(figure.arithmetic, {name: one.shown for name, one in needed.items()})
    return f"{text} = {Found(result, figure.unit).shown}"


def _band(figure: Figure, facts: Facts) -> str:
    """The edges of the band as the shop reads them; "" where it was not worked out."""
    if not figure.band:
        return ""
    low, high = _edges(figure, facts)
    if low is None or high is None:
        return ""
    low, high = sorted((low, high), key=lambda edge: edge.number)
    inch = facts.job.inch
    return wording.band(in_shop_words(low, inch), in_shop_words(high, inch))


def _edges(figure: Figure, facts: Facts) -> tuple[Found | None, Found | None]:
    """Both edges; of the shape, whose bands are tables of their own, at `low` and `high` in the place."""
    if "{edge}" in figure.band:
        low, high = (place_of(facts, figure.band.replace("{edge}", edge)) for edge in ("low", "high"))
    else:
        table = table_at(facts, figure.band)
        if table is None:
            return None, None
        unit = unit_at(figure.band)
        low, high = Found(table["low"], unit), Found(table["high"], unit)
    return low.into(figure.unit), high.into(figure.unit)
