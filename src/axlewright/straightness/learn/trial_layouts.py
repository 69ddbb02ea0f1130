"""Ways to lay a trial out: how many beads, how long, along or round the tube, and where the thermometer reads.

Beads stand in a row on top of the tube, the dial in its middle, those round the tube in the middle of the row. All
marks lie on a grid of tiles, so that they are round numbers on a tape and one model serves every layout.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product

from axlewright.errors import Fault, ShopFileError
from axlewright.housing.seam import Seam
from axlewright.housing.section import Section
from axlewright.straightness.learn.trial import TrialTube
from axlewright.straightness.learn.trial_fit import WIDEST
from axlewright.straightness.learn.trial_tube import Place, TubeModel, bead_along, bead_round, tube_model
from axlewright.units import format_length

TILE = {False: 0.02, True: 0.0254}
"""Size of a tile [m], in mm and in inch: 20 mm, 1 in."""

REACH = 10
"""Tiles to either side of the dial that may carry beads."""

ROUND_REACH = 3
"""Tiles to either side of the dial within which a bead may run round the tube."""

GAP = 2
"""Tiles from bead to bead: the zones that shrink, 16 mm to either side of a bead, must not overlap."""

KEEP_OFF = 0.06
"""Distance of beads from the supports, where the skin is dented by its load [m]."""

COUNTS = (2, 3, 4, 5)
ALONG_TILES = (2, 3, 4, 5)
ROUND_TILES = (2, 3, 4)
SPOT_DISTANCES = {False: (0.02, 0.03, 0.04), True: (0.01905, 0.0254, 0.0381)}
"""Distance of the thermometer's spot from the middle line or the end of the first bead [m]."""


@dataclass(frozen=True)
class LaidOut:
    """A bead of a layout.

    Args:
        at: of a bead round the tube, its distance from the left end; None: it runs along the top [m].
        start: where it begins, from the left end; round the tube, from the top along the skin [m].
        end: where it ends [m].
        stretches: its stretches in the model of the tiles.
    """

    at: float | None
    start: float
    end: float
    stretches: tuple[int, ...]

    @property
    def length(self) -> float:
        """Length [m]."""
        return abs(self.end - self.start)


@dataclass(frozen=True)
class Spotted:
    """A spot for the thermometer: where it is, its number in the model, and how it lies to the first bead."""

    place: Place
    number: int
    beside: bool


@dataclass(frozen=True)
class Layout:
    """Beads in the order they are laid, and the spots a thermometer may read beside the first."""

    beads: tuple[LaidOut, ...]
    spots: tuple[Spotted, ...]


@dataclass(frozen=True)
class _Row:
    """A row of beads in tiles: how many, lengths along and round, of which so many round the tube."""

    count: int
    rounds: int
    along: int
    round_length: int

    def marks(self) -> list[tuple[bool, int, int]]:
        """Of each bead from left to right: whether it is round, first and last tile edge, counted from the dial."""
        before = (self.count - self.rounds + 1) // 2
        kinds = [False] * before + [True] * self.rounds + [False] * (self.count - self.rounds - before)
        widths = [0 if kind else self.along for kind in kinds]
        place = -((sum(widths) + GAP * (self.count - 1)) // 2)
        marks = []
        for kind, width in zip(kinds, widths, strict=True):
            marks.append((kind, place, place + width))
            place += width + GAP
        return marks


@dataclass(frozen=True)
class Layouts:
    """All layouts of a tube and the one model they share."""

    model: TubeModel
    layouts: tuple[Layout, ...]


def layouts_for(tube: TrialTube, inch: bool, counts: tuple[int, ...], rounds: bool) -> Layouts:
    """Every layout that fits on a tube.

    Args:
        tube: the tube.
        inch: whether marks are to be round numbers of inches.
        counts: numbers of beads to look at.
        rounds: whether beads may run round the tube.

    Raises:
        ShopFileError: none fits.
    """
    grid = _Grid(tube, TILE[inch], rounds)
    rows = [row for row in _rows(counts, rounds) if grid.holds(row)]
    if not rows:
        off = format_length(KEEP_OFF, inch)
        allowed = f"there is no room for {min(counts)} beads about the dial, {off} off the supports"
        remedy = "Take a longer tube, or set the dial midway between the supports."
        raise ShopFileError(Fault("Scrap tube", format_length(tube.length, inch), allowed, remedy))
    spots = sorted({spot for row in rows for spot, _ in grid.spots(row, inch)})
    model = tube_model(tube, grid.seams(), tuple(spots), grid.tile / 2.0)
    numbers = {spot: number for number, spot in enumerate(spots)}
    layouts = tuple(
        Layout(
            grid.beads(row),
            tuple(Spotted(spot, numbers[spot], beside) for spot, beside in grid.spots(row, inch)),
        )
        for row in rows
    )
    return Layouts(model, layouts)


def _rows(counts: tuple[int, ...], rounds: bool) -> Iterator[_Row]:
    for count, number, along in product(counts, (0, 1, 2) if rounds else (0,), ALONG_TILES):
        if number < count:
            yield from (_Row(count, number, along, length) for length in (ROUND_TILES if number else (0,)))


class _Grid:
    """Tiles along the top, and round the tube at tile edges near the dial; stretches are half tiles.

    Args:
        tube: the tube.
        tile: size of a tile [m].
        rounds: whether beads may run round the tube.
    """

    def __init__(self, tube: TrialTube, tile: float, rounds: bool) -> None:
        self.tube, self.tile = tube, tile
        room = (tube.dial - tube.left_support - KEEP_OFF, tube.right_support - KEEP_OFF - tube.dial)
        self.low, self.high = (min(REACH, max(0, int(side / tile + 1e-6))) for side in room)
        widest = WIDEST * tube.outside_diameter + 1e-6
        self.round_tiles = max((n for n in ROUND_TILES if n * tile <= widest), default=0) if rounds else 0
        reach = range(-min(ROUND_REACH, self.low), min(ROUND_REACH, self.high) + 1)
        self.round_places = tuple(reach) if self.round_tiles else ()

    def seams(self) -> tuple[Callable[[Section], Seam], ...]:
        """Seams that carry all tiles."""
        half = self.round_tiles * self.tile / 2.0
        top = bead_along(self.tube, self._at(-self.low), self._at(self.high))
        return (top, *(bead_round(self.tube, self._at(place), -half, half) for place in self.round_places))

    def holds(self, row: _Row) -> bool:
        """Whether a row of beads lies on the tiles."""
        marks = row.marks()
        places = [start for is_round, start, _ in marks if is_round]
        inside = marks[0][1] >= -self.low and marks[-1][2] <= self.high
        return inside and row.round_length <= self.round_tiles and set(places) <= set(self.round_places)

    def beads(self, row: _Row) -> tuple[LaidOut, ...]:
        """The beads of a row as they are laid: those along the tube from left to right, then those round it."""
        return tuple(self._bead(row, *mark) for mark in sorted(row.marks()))

    def spots(self, row: _Row, inch: bool) -> list[tuple[Place, bool]]:
        """Spots beside the first bead, and off its outer end; the latter are False."""
        _, start, end = min(row.marks())
        middle, outer = (self._at(start) + self._at(end)) / 2.0, self._at(start)
        beside = [((round(middle, 9), away), True) for away in SPOT_DISTANCES[inch]]
        return beside + [((round(outer - away, 9), 0.0), False) for away in SPOT_DISTANCES[inch]]

    def _bead(self, row: _Row, is_round: bool, start: int, end: int) -> LaidOut:
        if not is_round:
            first = 2 * (start + self.low)
            return LaidOut(
                None, self._at(start), self._at(end), tuple(range(first, first + 2 * (end - start)))
            )
        before = 2 * (self.low + self.high) + 2 * self.round_tiles * self.round_places.index(start)
        first = before + self.round_tiles - row.round_length
        half = round(row.round_length * self.tile / 2.0, 9)
        return LaidOut(self._at(start), -half, half, tuple(range(first, first + 2 * row.round_length)))

    def _at(self, tiles: int) -> float:
        return round(self.tube.dial + tiles * self.tile, 9)
