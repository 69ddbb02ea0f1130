"""A moving picture as one small binary; docs/view.md describes the format."""

from __future__ import annotations

import gzip
import json
from dataclasses import asdict
from typing import Any

import numpy as np
from numpy.typing import NDArray

from axlewright.plan.moments import DOING
from axlewright.plan.moving_picture import FIGURES, MovingPicture
from axlewright.solid.mesh import Floats

MAGIC = b"axleview"

VERSION = 1

STEP_K = 2.0
"""One step of the temperature scale [K]; a skin temperature is off by half a step at most."""

HOTTEST_CODE = 255
"""Skin this many steps above ambient or more is told as this."""

STEPS = 2**16 - 1
"""The housing's box is this many steps long, wide and high."""

STEP_AXIS = 1e-7
"""One step of the axis off the line between the flanges [m]."""

STEP_LOAD = 1e-3
"""One step of a tack's force over strength."""

NEAR, BEYOND = 0.8, 1.0
"""A tack loaded to this share of its strength or more is near it; above the other it is beyond it."""

ALIGNED = 8
"""Every array begins at a multiple of so many bytes."""

COMPRESSION = 6

NOTE = (
    "Of the shape only the axis is computed on the way. The picture moves whole cross-sections with it, and they keep "
    "their form: it shows no dents and no gaps. Temperatures beside a burning arc are smeared over the mesh."
)
"""What a picture must say of itself."""


def picture_bytes(picture: MovingPicture) -> bytes:
    """The picture as gzip of header and arrays; the same picture gives the same bytes."""
    arrays = _arrays(picture)
    header = _header(picture)
    header["arrays"], offset = {}, 0
    for name, array in arrays.items():
        header["arrays"][name] = {"type": array.dtype.name, "shape": array.shape, "at": offset}
        offset += _padded(array.nbytes)
    text = json.dumps(header, separators=(",", ":")).encode()
    text += b" " * (_padded(len(text)) - len(text))
    parts = [MAGIC, np.array([VERSION, len(text)], dtype="<u4").tobytes(), text]
    parts += [array.tobytes() + bytes(_padded(array.nbytes) - array.nbytes) for array in arrays.values()]
    return gzip.compress(b"".join(parts), COMPRESSION, mtime=0)


def _padded(size: int) -> int:
    return -(-size // ALIGNED) * ALIGNED


def _header(picture: MovingPicture) -> dict[str, Any]:
    lowest, step = _box(picture)
    return {
        "note": NOTE,
        "ambient_c": picture.ambient_c,
        "temperature": {"from_c": picture.ambient_c, "step_k": STEP_K, "codes": HOTTEST_CODE + 1},
        "place": {"from_m": lowest.tolist(), "step_m": step.tolist()},
        "axis": {"step_m": STEP_AXIS, "stations_m": picture.axis.stations.tolist(), "figures": FIGURES},
        "doing_words": DOING,
        "tack_load": {"step": STEP_LOAD, "near": NEAR, "beyond": BEYOND},
        "beads": [_without(asdict(bead), "points", "outward") for bead in picture.beads],
        "tacks": [
            {**_without(asdict(tack), "point", "outward"), "largest": float(load.max())}
            for tack, load in zip(picture.tacks, picture.tack_loads, strict=True)
        ],
    }


def _box(picture: MovingPicture) -> tuple[Floats, Floats]:
    """Lowest corner of the skin's box, and one step of a place along each axis [m]."""
    lowest = picture.places.min(axis=0)
    return lowest, np.ptp(picture.places, axis=0) / STEPS


def _without(table: dict[str, Any], *names: str) -> dict[str, Any]:
    return {name: value for name, value in table.items() if name not in names}


def _arrays(picture: MovingPicture) -> dict[str, NDArray[Any]]:
    surface, moments, (lowest, step) = picture.surface, picture.moments, _box(picture)
    points = np.concatenate([bead.points for bead in picture.beads])
    tacks = np.array([tack.point for tack in picture.tacks]).reshape(-1, 3)
    return {
        "places": _steps((picture.places - lowest) / step, "<u2"),
        "corner_node": _numbers(surface.corner_node),
        "faces": _numbers(surface.faces),
        "edges": _numbers(surface.edges),
        "bead_first": np.cumsum([0] + [len(bead.points) for bead in picture.beads]).astype("<u4"),
        "bead_points": ((points - lowest) / step).round().astype("<i4"),
        "bead_outward": _unit_steps(np.concatenate([bead.outward for bead in picture.beads])),
        "tack_points": ((tacks - lowest) / step).round().astype("<i4"),
        "tack_outward": _unit_steps(np.array([tack.outward for tack in picture.tacks]).reshape(-1, 3)),
        "tack_loads": _steps(picture.tack_loads / STEP_LOAD, "<u2"),
        "time": moments.time.astype("<f4"),
        "doing": moments.doing.astype("<u1"),
        "bead": moments.bead.astype("<u2"),
        "laid": moments.laid.astype("<u2"),
        "turn": moments.turn.astype("<f4"),
        "hottest": picture.rises.max(axis=0).clip(0, STEP_K * HOTTEST_CODE).astype("<f4"),
        "vertical": _axis_steps(picture.axis.vertical),
        "fore_aft": _axis_steps(picture.axis.fore_aft),
        "figures": picture.axis.figures.astype("<f4"),
        "rises": temperature_codes(picture.rises).T.copy(),
    }


def temperature_codes(rises: NDArray[np.float32]) -> NDArray[np.uint8]:
    """Rises over ambient on the scale of the file.

    Below ambient, as the reduced heat balance reads right beside an arc, counts as ambient.
    """
    return np.rint(np.clip(rises / STEP_K, 0, HOTTEST_CODE)).astype(np.uint8)


def _numbers(values: NDArray[np.int64]) -> NDArray[Any]:
    return values.astype("<u2" if values.max(initial=0) < 2**16 else "<u4")


def _steps(values: Floats, kind: str) -> NDArray[Any]:
    return np.rint(np.clip(values, 0, np.iinfo(kind).max)).astype(kind)


def _unit_steps(vectors: Floats) -> NDArray[np.int8]:
    return np.rint(127 * vectors).astype(np.int8)


def _axis_steps(offsets: Floats) -> NDArray[Any]:
    return np.rint(offsets / STEP_AXIS).astype("<i4")
