"""Which part of a picture belongs to which mark: the square round it, less what is nearer to another."""

from __future__ import annotations

from collections.abc import Sequence

Point = tuple[float, float]


def cells(points: Sequence[Point], reach: float) -> list[str]:
    """What can be touched round each point, as corners that SVG reads; no two cover each other.

    Args:
        points: places of the marks.
        reach: half the side of the square round a point that stands alone.
    """
    return [_written(_cell(k, points, reach)) for k in range(len(points))]


def _cell(k: int, points: Sequence[Point], reach: float) -> list[Point]:
    x, y = points[k]
    corners = [
        (x - reach, y - reach),
        (x + reach, y - reach),
        (x + reach, y + reach),
        (x - reach, y + reach),
    ]
    for other, (ox, oy) in enumerate(points):
        dx, dy = ox - x, oy - y
        if other == k or max(abs(dx), abs(dy)) > 2.0 * reach:
            continue
        if dx == 0.0 and dy == 0.0:
            continue
        # Nearer to (x, y) than to (ox, oy): (p - middle) . (dx, dy) <= 0.
        level = dx * (x + ox) / 2.0 + dy * (y + oy) / 2.0
        corners = _cut(corners, dx, dy, level)
    return corners


def _cut(corners: list[Point], dx: float, dy: float, level: float) -> list[Point]:
    """The part of a convex shape where dx x + dy y is at most a level (Sutherland and Hodgman 1974)."""
    kept: list[Point] = []
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        a, b = dx * ax + dy * ay - level, dx * bx + dy * by - level
        if a <= 0.0:
            kept.append((ax, ay))
        if (a < 0.0) != (b < 0.0) and a != b:
            share = a / (a - b)
            if 0.0 < share < 1.0:
                kept.append((ax + share * (bx - ax), ay + share * (by - ay)))
    return kept


def _written(corners: Sequence[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in corners)
