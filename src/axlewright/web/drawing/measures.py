"""What a drawing is made from: the figures that are known, and usual ones in place of those that are not."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Set
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from axlewright.tasks.describing import BareMeasures
from axlewright.web.drawing.paper import Sized


@lru_cache(maxsize=1)
def _usual() -> dict[str, float]:
    text = files("axlewright.web.drawing").joinpath("usual.toml").read_text(encoding="utf-8")
    return {name: float(value) for name, value in tomllib.loads(text).items()}


@dataclass(frozen=True)
class Measures:
    """Figures by the dotted name of their field.

    Args:
        values: lengths [m] and clock positions [h] that can be read.
        texts: everything as it is typed.
        shown: the values as they are written on the drawing.
        labels: what each field is called.
        counts: entries of each list.
        optional: fields that may be left out.
    """

    values: Mapping[str, float]
    texts: Mapping[str, str]
    shown: Mapping[str, str]
    labels: Mapping[str, str]
    counts: Mapping[str, int]
    optional: Set[str] = frozenset()

    def known(self, name: str) -> bool:
        """Whether a figure is known."""
        return name in self.values

    def value(self, name: str, usual: float | None = None) -> float:
        """A figure [m] or [h]; where it is not known, the one given or a usual one."""
        if name in self.values:
            return self.values[name]
        if usual is not None:
            return usual
        return _usual()[".".join(part for part in name.split(".") if not part.isdecimal())]

    def sized(self, name: str) -> Sized:
        """A field as a dimension shows it."""
        assumed = name not in self.values
        left_out = assumed and name in self.optional and not self.texts.get(name, "").strip()
        return Sized(name, self.labels.get(name, name), self.shown.get(name, "?"), assumed, left_out)

    def word(self, name: str, usual: str = "") -> str:
        """What is chosen in a field."""
        return self.texts.get(name, "") or usual

    def count(self, name: str) -> int:
        """Entries of a list."""
        return self.counts.get(name, 0)

    @property
    def length(self) -> float:
        """Length of the housing [m]."""
        return self.value("housing.length")

    @property
    def bare(self) -> BareMeasures:
        """What the bare housing's skin is drawn from."""
        return BareMeasures(
            length=self.length,
            left_diameter=self.value("housing.left_tube.outside_diameter"),
            right_diameter=self.value("housing.right_tube.outside_diameter"),
            centre_offset=self.value("housing.centre.offset"),
            centre_height=self.value("housing.centre.height"),
            centre_depth=self.value("housing.centre.depth"),
            centre_width=self.value("housing.centre.width"),
        )

    @property
    def centre_at(self) -> float:
        """Distance of the centre's middle from the left flange [m]."""
        return self.length / 2.0 - self.value("housing.centre.offset")

    def tube_radius(self, at: float) -> float:
        """Outside radius of the tube at a distance from the left flange [m]."""
        side = "left" if at <= self.centre_at else "right"
        return self.value(f"housing.{side}_tube.outside_diameter") / 2.0
