"""Where a press supports and pushes the housing."""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.patches import Polygon

from axlewright.job.schema import Job
from axlewright.sheets import correction_words, ink, wording
from axlewright.sheets.axle_frame import AxleFrame, draw_outline, draw_ruler
from axlewright.sheets.straightness_words import sentence
from axlewright.sheets.style import BAND, HEAT, INK, NOW, SOFT_INK, THICK
from axlewright.sheets.text import fitted, wrapped
from axlewright.straightness.axis import Plane
from axlewright.straightness.correct.report import PressSet

_LEFT, _AXLE = 17.0, 148.0
_HEAD, _ABOVE, _BELOW, _RULER = 9.0, 31.0, 25.0, 8.0
_TUBE = 5.0
_LEAST_SADDLE = 4.0
_MOST_REASONS, _REASON = 4, 4.0


@dataclass(frozen=True)
class PressPanel:
    """One push: the housing with the pushed side up, two supports, saddle and ram.

    Args:
        number: of the set, from 1.
        one: the push.
        length: of the axle [m].
        inch: whether the shop works in inches.
        job: for the outline, where it is known.
    """

    number: int
    one: PressSet
    length: float
    inch: bool
    job: Job | None = None

    @property
    def height(self) -> float:
        """Height on the page [mm]; a refused push is not drawn, it takes its words only."""
        if self.one.refused:
            return 7.0 + _REASON * len(self._reasons())
        return _HEAD + _ABOVE + _BELOW + _RULER

    def draw(self, axes: Axes, top: float) -> None:
        """Draw with its upper edge at `top` [mm]."""
        if self.one.refused:
            self._refuse(axes, top)
            return
        frame = AxleFrame(_LEFT, _AXLE, self.length)
        middle = top - _HEAD - _ABOVE
        side = fitted(self.one.side, 60.0, 9.0, bold=True)
        title = f"Set {self.number}: {side} up ({correction_words.clock(self.one.clock)})"
        ink.label(axes, (frame.left + frame.right) / 2.0, top - 4.0, title, 9.0, fontweight="bold")
        ink.label(axes, frame.left, top - 4.0, "LEFT", 10.0, ha="left", fontweight="bold")
        ink.label(axes, frame.right, top - 4.0, "RIGHT", 10.0, ha="right", fontweight="bold")
        half = self._draw_housing(axes, frame, middle)
        self._draw_ram(axes, frame, middle + half)
        for at in self.one.supports:
            self._draw_support(axes, frame.paper(at), middle - half, at)
        draw_ruler(axes, frame, middle - _BELOW, self.inch)

    def _draw_housing(self, axes: Axes, frame: AxleFrame, middle: float) -> float:
        """The outline, to scale where the job is known; gives half the tube on paper [mm]."""
        if self.job is None:
            ink.box(axes, (frame.left, middle - _TUBE), (frame.width, 2.0 * _TUBE), edgecolor=SOFT_INK)
            return _TUBE
        upright = abs((self.one.clock + 3.0) % 6.0 - 3.0) < 1.5
        plane: Plane = "vertical" if upright else "fore-aft"
        draw_outline(axes, frame, middle, self.job.housing, plane, color=SOFT_INK)
        housing = self.job.housing
        tube = housing.left_tube if self.one.tube == "left" else housing.right_tube
        return tube.outside_diameter / 2.0 * frame.per_metre

    def _draw_ram(self, axes: Axes, frame: AxleFrame, skin: float) -> None:
        """Saddle on the tube, and the ram's arrow on it."""
        x = frame.paper(self.one.push_at)
        width = max(self.one.saddle * frame.per_metre, _LEAST_SADDLE)
        ink.box(
            axes,
            (x - width / 2.0, skin),
            (width, 2.4),
            facecolor=BAND,
            linewidth=THICK,
            zorder=4.0,
            gid="saddle",
        )
        ink.arrow(axes, (x, skin + 17.0), (x, skin + 2.4), 2.2 * THICK)
        inside = min(max(x, frame.left + 14.0), frame.right - 14.0)
        said = f"ram at {wording.length(self.one.push_at, self.inch)}"
        ink.label(axes, inside, skin + 20.0, said, 8.5, fontweight="bold", color=NOW, gid="ram")

    def _draw_support(self, axes: Axes, x: float, skin: float, at: float) -> None:
        """A block with its edge under the tube."""
        corners = [(x, skin), (x - 3.2, skin - 6.0), (x + 3.2, skin - 6.0)]
        axes.add_patch(Polygon(corners, closed=True, facecolor=INK, edgecolor=INK, zorder=4.0, gid="support"))
        said = wording.length(at, self.inch)
        ink.label(axes, x, skin - 8.6, said, 8.5, fontweight="bold", gid=f"support-{at:.4f}")

    def _refuse(self, axes: Axes, top: float) -> None:
        """A cross, the order not to press there, and why."""
        size, x, y = 2.4, 8.0, top - 3.6
        for way in (-1.0, 1.0):
            ink.line(axes, (x - size, x + size), (y - way * size, y + way * size), 1.6 * THICK, HEAT)
        said = fitted(correction_words.press_refused(self.one, self.inch), 160.0, 9.0, bold=True)
        ink.label(axes, 14.0, y, said, 9.0, ha="left", fontweight="bold", gid="refused")
        for k, line in enumerate(self._reasons()):
            ink.label(axes, 14.0, top - 7.0 - _REASON * (k + 0.4), line, 8.0, ha="left", gid=f"reason-{k}")

    def _reasons(self) -> list[str]:
        """Why not to press here, in lines that fit the page."""
        lines = [line for text in self.one.refused for line in wrapped(sentence(text), 158.0, 8.0, 2)]
        return lines[:_MOST_REASONS]
