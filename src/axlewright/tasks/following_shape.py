"""The shape to expect once all is laid and cold, in words with bands."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, ValidationError

from axlewright.plan.report import Shape
from axlewright.tasks import wording
from axlewright.tasks.following_asked import Following


class _Read(BaseModel):
    model_config = ConfigDict(extra="ignore", allow_inf_nan=False)


class _Sides(_Read):
    left: float
    right: float


class _Bow(_Read):
    vertical: float
    fore_aft: float


class _Shape(_Read):
    camber_deg: _Sides
    toe_deg: _Sides
    bow_mm: _Bow
    twist_deg: float

    def figures(self) -> tuple[float, ...]:
        """Camber, toe and twist [deg], bow [m], in the order of `_figures`."""
        bow = (1e-3 * self.bow_mm.vertical, 1e-3 * self.bow_mm.fore_aft)
        camber, toe = self.camber_deg, self.toe_deg
        return camber.left, camber.right, toe.left, toe.right, *bow, self.twist_deg


class _Band(_Read):
    low: _Shape
    high: _Shape


class _Predicted(_Shape):
    band: _Band | None = None


class _Plan(_Read):
    predicted: _Predicted


PlanBand = tuple[tuple[float, float], ...]
"""For each figure, how far below and above the expected value nineteen cases of twenty reach."""


def plan_band(plan_text: str) -> PlanBand | None:
    """How sure the plan was of each figure of its shape; None where it does not say."""
    try:
        predicted = _Plan.model_validate_json(plan_text).predicted
    except ValidationError:
        return None
    if predicted.band is None:
        return None
    edges = (predicted.band.low.figures(), predicted.figures(), predicted.band.high.figures())
    return tuple((low - middle, high - middle) for low, middle, high in zip(*edges, strict=True))


def shape_told(shape: Shape | None, band: PlanBand | None, inch: bool) -> Following | None:
    """The shape as an answer has it; None where there is none yet.

    The band is the plan's, about the value as it is expected now: what is not known of shrinkage and fit-up does not
    become known by welding.
    """
    if shape is None:
        return None
    values = _figures(shape)
    reach = band or ((0.0, 0.0),) * len(values)
    told = [
        _figure(value, low, high, at, inch)
        for at, (value, (low, high)) in enumerate(zip(values, reach, strict=True))
    ]
    return {"camber": told[:2], "toe": told[2:4], "bow": told[4:6], "twist": told[6]}


def _figures(shape: Shape) -> tuple[float, ...]:
    camber, toe = shape.camber_deg, shape.toe_deg
    bow = (shape.bow_vertical, shape.bow_fore_aft)
    return camber.left, camber.right, toe.left, toe.right, *bow, shape.twist_deg


def _figure(value: float, low: float, high: float, at: int, inch: bool) -> dict[str, Any]:
    """One figure: its value in words, its band, and what its sign means."""
    meanings = (
        *(wording.camber_meaning,) * 2,
        *(wording.toe_meaning,) * 2,
        lambda bow: wording.bow_meaning(bow, True),
        lambda bow: wording.bow_meaning(bow, False),
        lambda twist: "",
    )

    def words(figure: float) -> str:
        return wording.deflection(figure, inch) if at in (4, 5) else wording.angle(figure)

    band = wording.band(words(value + low), words(value + high)) if low or high else ""
    return {"words": words(value), "band": band, "meaning": meanings[at](value)}
