"""The outer surface of the bare housing: one closed curve at every station along the axle.

Each section is an ellipse with its own half-height and half-depth. On the tubes both equal the tube's
radius; over the centre they swell to the centre's own figures. The two are joined by a power mean, which
rounds the corner where the tube runs into the centre, as pressing and welding do.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.job.outline import CORNER_POWER
from axlewright.job.schema import Housing, Tube
from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class Section:
    """Outer surface of a housing as a function of x [m]; see the module's text."""

    housing: Housing

    @property
    def middle(self) -> float:
        """Position of the centre's middle, x [m]."""
        return self.housing.centre.offset

    @property
    def half_length(self) -> float:
        """Half the length between the outer faces of the knuckle flanges [m]."""
        return self.housing.length / 2

    def _swell(self, x: Floats) -> Floats:
        u = (x - self.middle) / (self.housing.centre.width / 2)
        return np.sqrt(np.clip(1.0 - u**2, 0.0, None))

    def tube_radius(self, x: Floats) -> Floats:
        """Radius of the tubes, passing evenly from one to the other across the centre [m]."""
        return self._between(x, *(tube.outside_diameter / 2 for tube in self._tubes()))

    def tube_wall(self, x: Floats) -> Floats:
        """Wall of the tubes, passing evenly from one to the other across the centre [m]."""
        return self._between(x, *(tube.wall for tube in self._tubes()))

    def _tubes(self) -> tuple[Tube, Tube]:
        return self.housing.right_tube, self.housing.left_tube

    def _between(self, x: Floats, right: float, left: float) -> Floats:
        half = self.housing.centre.width / 2
        return np.interp(x, [self.middle - half, self.middle + half], [right, left])

    def wall(self, x: Floats) -> Floats:
        """Wall thickness [m]: the centre's own inside its width, the tube's outside it."""
        inside = np.abs(x - self.middle) < self.housing.centre.width / 2
        return np.where(inside, self.housing.centre.wall, self.tube_wall(x))

    def half_height(self, x: Floats) -> Floats:
        """Half the height of the section [m]."""
        return self._joined(x, self.housing.centre.height / 2)

    def half_depth(self, x: Floats) -> Floats:
        """Half the fore-aft depth of the section [m]."""
        return self._joined(x, self.housing.centre.depth / 2)

    def _joined(self, x: Floats, half: float) -> Floats:
        x = np.asarray(x, dtype=float)
        powers = self.tube_radius(x) ** CORNER_POWER + (half * self._swell(x)) ** CORNER_POWER
        return powers ** (1 / CORNER_POWER)

    def point(self, x: Floats, angle: Floats) -> Floats:
        """Point on the surface, shape (..., 3) [m]; `angle` runs from the top toward the front [rad]."""
        x, angle = np.broadcast_arrays(np.asarray(x, float), angle)
        y, z = self.half_depth(x) * np.sin(angle), self.half_height(x) * np.cos(angle)
        return np.stack([x, y, z], axis=-1)

    def top_at(self, x: Floats, y: Floats | float) -> Floats:
        """Height z [m] of the upper surface above the point (x, y)."""
        ratio = np.clip(np.asarray(y) / self.half_depth(x), -1.0, 1.0)
        return self.half_height(x) * np.sqrt(1.0 - ratio**2)

    def front_at(self, x: Floats, z: Floats) -> Floats:
        """Distance |y| [m] of the front (or rear) surface at (x, z)."""
        ratio = np.clip(np.asarray(z) / self.half_height(x), -1.0, 1.0)
        return self.half_depth(x) * np.sqrt(1.0 - ratio**2)

    def radius_toward(self, x: Floats, angle: Floats) -> Floats:
        """Distance from the axle line to the surface along the ray at `angle` from the top [m]."""
        sine, cosine = np.sin(angle) / self.half_depth(x), np.cos(angle) / self.half_height(x)
        return 1.0 / np.sqrt(sine**2 + cosine**2)

    def outward(self, points: Floats) -> Floats:
        """Unit normals of the surface at points on it, shape (P, 3), by central differences."""
        step = 1e-5
        shifts = step * np.eye(3)
        gradient = [self._level(points + d) - self._level(points - d) for d in shifts]
        normals = np.stack(gradient, axis=-1)
        return normals / np.linalg.norm(normals, axis=-1, keepdims=True)

    def _level(self, points: Floats) -> Floats:
        x, y, z = points[..., 0], points[..., 1], points[..., 2]
        return (y / self.half_depth(x)) ** 2 + (z / self.half_height(x)) ** 2
