"""The picture: distortion with yielding against distortion without, and what waiting does to both."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from studies.yielding.compare import ELASTIC, MAIN
from studies.yielding.figures import Figures
from studies.yielding.plans import COMMON, OURS
from studies.yielding.results import JOBS, load

BLUE, ORANGE, GREEN, GREY, RED = "#0072B2", "#E69F00", "#009E73", "#999999", "#D55E00"
"""Okabe and Ito's colours, told apart by the colour-blind as well."""

KINDS = (
    ("common practice", RED, "*", lambda name: name == COMMON),
    ("common order, other waits", RED, "o", lambda name: name.startswith("common order")),
    ("seam after seam, side by side", ORANGE, "s", lambda name: name.startswith(("seam", "side"))),
    ("coolest first", GREEN, "^", lambda name: name.startswith("coolest")),
    ("by chance", GREY, "x", lambda name: name.startswith("by chance")),
    ("ours", BLUE, "D", lambda name: name.startswith("ours, from")),
    ("ours, recommended", BLUE, "*", lambda name: name == OURS),
)
"""Label, colour, mark and plans of each kind."""

LATE = "sets when the arc stops"

HOURS = (0.5, 1, 2, 5, 10, 20)
"""Marks of the time scale [h]."""

FAMILIES = (("common order", RED), ("seam after seam", ORANGE), ("side by side", GREEN))


def draw(folder: Path, path: Path) -> None:
    """Draw the results of all jobs that are there."""
    names = [name for name in JOBS if (folder / f"{name}.csv").exists()]
    figure = Figure(figsize=(4.2 * len(names), 8.6), layout="constrained")
    axes = figure.subplots(2, len(names), squeeze=False)
    for column, name in enumerate(names):
        ways = load(folder / f"{name}.csv")
        _scatter(axes[0, column], ways)
        _waits(axes[1, column], ways)
        axes[0, column].set_title(name)
    axes[1, 0].legend(fontsize=7, handlelength=3.5)
    handles, labels = axes[0, 0].get_legend_handles_labels()
    figure.legend(handles, labels, loc="outside lower center", ncols=4, frameon=False, fontsize=9)
    figure.savefig(path, dpi=110)


def _scatter(axes: Axes, ways: dict[str, list[Figures]]) -> None:
    elastic = ways[ELASTIC]
    for label, colour, mark, chosen in KINDS:
        size = 150 if mark == "*" else 30
        points = _pairs(elastic, ways[MAIN], chosen)
        axes.scatter(*points, color=colour, marker=mark, s=size, label=label, zorder=3)
    everything = _pairs(elastic, ways[LATE], lambda name: True)
    axes.scatter(
        *everything, color="black", marker=".", s=10, alpha=0.6, label="set at the end of the arc (bound)"
    )
    low, high = axes.get_xlim()[0], max(axes.get_xlim()[1], axes.get_ylim()[1])
    low = min(low, axes.get_ylim()[0])
    axes.plot([low, high], [low, high], color="black", linewidth=0.8)
    axes.set(xlim=(low, high), ylim=(low, high), aspect="equal")
    axes.set(xlabel="distortion, elastic walk [mm]", ylabel="distortion, tacks and beads yield [mm]")


def _pairs(before: list[Figures], after: list[Figures], chosen: object) -> tuple[np.ndarray, np.ndarray]:
    assert callable(chosen)
    pairs = [
        (one.distortion_mm, other.distortion_mm)
        for one, other in zip(before, after, strict=True)
        if chosen(one.plan)
    ]
    first, second = np.array(pairs).reshape(-1, 2).T
    return first, second


def _waits(axes: Axes, ways: dict[str, list[Figures]]) -> None:
    for family, colour in FAMILIES:
        for walk, style in ((ELASTIC, "--"), (MAIN, "-")):
            own = sorted((r.bench_min / 60, r.distortion_mm) for r in ways[walk] if r.family == family)
            hours, size = np.array(own).T
            label = f"{family}, {'elastic' if walk == ELASTIC else 'yielding'}"
            axes.plot(hours, size, style, color=colour, marker="o", markersize=3, label=label)
    axes.set(xlabel="bench time, same order with longer waits [h]", ylabel="distortion [mm]", xscale="log")
    axes.set_xticks(HOURS, [f"{hours:g}" for hours in HOURS])
    axes.minorticks_off()
