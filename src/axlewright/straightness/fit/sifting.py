"""Which readings go together: outliers left out, slips of the pen named, contradictions told."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from axlewright.straightness.fit.equations import Equation
from axlewright.straightness.fit.system import Solved, solve
from axlewright.straightness.fit.turned_round import Shared, as_minutes, shared_slips, slips
from axlewright.straightness.readings.reading import Reading
from axlewright.straightness.report import Doubt

FALSE_ALARM = 0.01
"""How often a set in which nothing is wrong may have a reading named (Bonferroni: divided by the readings)."""

_RIVAL = 4.0
"""A reading whose removal helps nearly as much, within two standard deviations, is as likely to be the wrong one."""

_LEFT = 0.9
"""Least freedom that must remain: with less nothing is left to compare, and no reading can be called wrong."""

_FITS = 0.05
"""Chance above which a reading without its slip is taken to fit."""

_SCATTER = 0.001
"""Chance of the whole set's scatter below which its errors are taken to be larger than they say."""

Making = Callable[[Reading], Equation]


@dataclass(frozen=True)
class Sifted:
    """Readings that go together.

    Args:
        solved: their shape.
        left_out: what the readings left out say.
        doubts: what does not go together.
        wider: how much wider than the errors say the readings scatter, 1 or more.
    """

    solved: Solved
    left_out: tuple[Equation, ...]
    doubts: tuple[Doubt, ...]
    wider: float


@dataclass(frozen=True)
class _Sorted:
    """Equations that agree, those that clearly disagree with them, and rivals of which none is clearly wrong."""

    solved: Solved
    odd: tuple[Equation, ...]
    rivals: tuple[Equation, ...]

    @property
    def agree(self) -> bool:
        """Whether what is left goes together."""
        return not self.rivals and self.solved.chance >= _SCATTER


def sift(equations: Sequence[Equation], making: Making) -> Sifted:
    """Fit a shape to what readings say, without those that clearly disagree.

    Args:
        equations: what the readings say.
        making: gives what a reading says.
    """
    found = _sorted_out(equations)
    if (found.odd and len(found.odd) > 1) or not found.agree:
        groups = _mixed_up(equations, making)
        if len(groups) == 1:
            return _without_group(equations, groups[0])
        if groups:
            return _finished(_Sorted(solve(equations), (), ()), (), (_either(groups),))
    doubts = [_odd_one(found.solved, equation, making) for equation in found.odd]
    doubts += [_contradiction(found.rivals)] if found.rivals else []
    return _finished(found, found.odd, tuple(doubts))


def _sorted_out(equations: Iterable[Equation]) -> _Sorted:
    """Leave out the worst reading again and again while it is clearly wrong and enough others remain."""
    kept = list(equations)
    odd: list[Equation] = []
    while True:
        solved = solve(kept)
        squares, chances = solved.against_the_rest()
        worst = int(np.argmin(chances)) if kept else 0
        if not kept or chances[worst] >= math.log(FALSE_ALARM / len(kept)):
            return _Sorted(solved, tuple(odd), ())
        rivals = np.flatnonzero(squares >= squares[worst] - _RIVAL)
        fewer = solve(kept[:worst] + kept[worst + 1 :])
        if len(rivals) > 1 or fewer.freedom < _LEFT:
            return _Sorted(solved, tuple(odd), tuple(kept[number] for number in rivals))
        odd.append(kept.pop(worst))


def _mixed_up(equations: Sequence[Equation], making: Making) -> list[Shared]:
    """Slips shared by a group of readings without which the set goes together.

    The group and the rest must each agree among themselves: only then is the group as such at odds with the rest.
    """
    found: dict[str, Shared] = {}
    for shared in shared_slips([equation.reading for equation in equations]):
        own = [equations[number] for number in sorted(shared.numbers)]
        rest = [equation for number, equation in enumerate(equations) if number not in shared.numbers]
        turned = [making(shared.slip.turned(equation.reading)) for equation in own]
        if shared.name not in found and rest and all(map(_agree, ([*rest, *turned], rest, own))):
            found[shared.name] = shared
    return list(found.values())


def _agree(equations: Sequence[Equation]) -> bool:
    """Whether readings go together as they are."""
    solved = solve(equations)
    worst = float(solved.against_the_rest()[1].min())
    return solved.chance >= FALSE_ALARM and worst >= math.log(FALSE_ALARM / len(equations))


def _without_group(equations: Sequence[Equation], shared: Shared) -> Sifted:
    """Leave out a group of readings that would fit without its slip."""
    out = tuple(equations[number] for number in sorted(shared.numbers))
    rest = [equation for number, equation in enumerate(equations) if number not in shared.numbers]
    words = f"{_capital(shared.name)} contradict the rest; turned round all readings go together: {shared.slip.say}."
    doubts = [Doubt(equation.reading.origin.line, words, True) for equation in out]
    return _finished(_Sorted(solve(rest), (), ()), out, tuple(doubts))


def _either(groups: list[Shared]) -> Doubt:
    """One of several groups must be turned round, and nothing tells which."""
    names = " or ".join(shared.name for shared in groups)
    advice = "; ".join(dict.fromkeys(shared.slip.say for shared in groups))
    words = (
        f"With either {names} turned round all readings go together, as they are they contradict each other"
    )
    return Doubt(0, f"{words}: {advice}.", False)


def _odd_one(solved: Solved, equation: Equation, making: Making) -> Doubt:
    """A reading that disagrees with the others, and what may be the matter with it."""
    reading = equation.reading
    misfit = solved.misfit(equation)
    off = ""
    if misfit is not None:
        times = float(np.sqrt(np.mean(misfit**2 / np.diag(equation.covariance))))
        off = f" It is off by {times:.0f} times its error."
    say = "read it again"
    for slip in filter(None, (*slips(reading), as_minutes(reading))):
        if _goes_with(solved, making(slip.turned(reading))):
            say = f"{slip.say}. Turned round it fits" if slip.name else slip.say
            break
    return Doubt(reading.origin.line, f"Does not go with the rest.{off} {_capital(say)}.", True)


def _goes_with(solved: Solved, equation: Equation) -> bool:
    """Whether a reading agrees with a set."""
    tried = solve((*solved.equations, equation))
    return bool(tried.against_the_rest()[1][-1] >= math.log(_FITS))


def _contradiction(rivals: tuple[Equation, ...]) -> Doubt:
    lines = sorted({equation.reading.origin.line for equation in rivals})
    if len(lines) == 1:
        words = "contradicts the rest, and too few others are left to say which is wrong: read it again."
        return Doubt(lines[0], _capital(words), False)
    shown = ", ".join(str(line) for line in lines[:-1]) + f" and {lines[-1]}"
    return Doubt(
        0, f"Lines {shown} contradict each other, and nothing tells which is wrong: read them again.", False
    )


def _finished(found: _Sorted, out: tuple[Equation, ...], doubts: tuple[Doubt, ...]) -> Sifted:
    """Widen the bands where the readings scatter more than their errors say."""
    solved, wider = found.solved, 1.0
    if solved.chance < _SCATTER:
        wider = math.sqrt(solved.scatter / solved.freedom)
        words = (
            f"The readings scatter {wider:.1f} times as much as their errors say, and the bands are wider for it. "
            "Check that nothing was moved while a set-up was read, or give a larger error."
        )
        doubts = (*doubts, Doubt(0, words, False))
    root = solved.solution.root * wider
    widened = replace(solved, solution=replace(solved.solution, root=root))
    return Sifted(widened, out, doubts, wider)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
