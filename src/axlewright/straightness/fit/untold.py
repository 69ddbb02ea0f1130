"""What readings do not tell, and why, in plain words."""

from __future__ import annotations

import numpy as np

from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PLANES, Plane
from axlewright.straightness.fit.figures import figures, line_of
from axlewright.straightness.fit.fitting import ShapeFit
from axlewright.straightness.readings.reading import Angle
from axlewright.units import format_angle

_SIDES: dict[Plane, str] = {"vertical": "top or bottom", "fore-aft": "front or rear"}
_ANGLE: dict[Plane, str] = {"vertical": "camber", "fore-aft": "toe"}
_BOW: dict[Plane, str] = {"vertical": "vertical bow", "fore-aft": "fore-aft bow"}
_LEVEL: dict[Plane, str] = {"vertical": "level", "fore-aft": "level on side"}


def untold_words(fit: ShapeFit) -> tuple[str, ...]:
    """What the readings do not tell; empty where they tell everything."""
    words = [_of_plane(fit, plane) for plane in PLANES]
    if not figures(fit.axis, fit.axis.span.angles())[4].told:
        words.append("Twist cannot be told: the caster of both flanges was not read in one set-up.")
    return tuple(filter(None, words))


def _of_plane(fit: ShapeFit, plane: Plane) -> str:
    rows, angle = _angle_rows(fit, plane), _ANGLE[plane]
    left, right, both = (bool(one) for one in fit.told(np.vstack([rows, rows.sum(axis=0)])))
    bow = line_of(fit.axis, plane).told
    missing = _missing(angle, left, right) + ([] if bow else [_BOW[plane]])
    if not missing:
        return ""
    if not _is_read(fit, plane):
        everything = f"{angle} and {_BOW[plane]}"
        return f"Nothing was read from the {_SIDES[plane]}: {everything} cannot be told."
    if bow or (left and right):
        return f"Too little was read from the {_SIDES[plane]}: {_listed(missing)} cannot be told."
    words = f"Too few stations on the {_SIDES[plane]}, or too rough: {_listed(missing)} cannot be told."
    if both and not (left or right):
        sum_of = figures(fit.axis, rows.sum(axis=0)[None], degrees=True)[0]
        words = (
            f"Of {angle} only left and right together can be told, {format_angle(sum_of.value)}: "
            f"{_listed(missing)} cannot. {_one_side(fit, plane)}"
        )
    return words


def _one_side(fit: ShapeFit, plane: Plane) -> str:
    """Why one side is not told from the other."""
    if any(isinstance(reading, Angle) and reading.sense == _ANGLE[plane] for reading in fit.used):
        return f'Read "{_LEVEL[plane]}" on a bar from flange to flange to tell one side from the other.'
    return "A tape alone does not tell one side from the other."


def _angle_rows(fit: ShapeFit, plane: Plane) -> Floats:
    """Rows of the angle of both flanges in a plane, left and right."""
    rows = fit.axis.span.angles()
    return rows[:2] if plane == "vertical" else rows[2:4]


def _is_read(fit: ShapeFit, plane: Plane) -> bool:
    """Whether any reading has to do with a plane."""
    columns = np.any(np.abs(line_of(fit.axis, plane).rows) > 0.0, axis=0) | np.any(
        np.abs(_angle_rows(fit, plane)) > 0.0, axis=0
    )
    return any(bool(np.any(equation.shape[:, columns])) for equation in fit.solved.equations)


def _missing(angle: str, left: bool, right: bool) -> list[str]:
    if not left and not right:
        return [f"{angle} left and right"]
    return [] if left and right else [f"{angle} {'right' if left else 'left'}"]


def _listed(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
