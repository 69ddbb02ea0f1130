"""Results on disk: one row a plan and way of walking, and a summary of what follows from them."""

from __future__ import annotations

import csv
import json
from dataclasses import asdict, astuple, fields
from pathlib import Path

from studies.yielding.compare import ELASTIC, change_per_hour, compared
from studies.yielding.figures import HEADINGS, Figures
from studies.yielding.plans import COMMON, OURS

JOBS = ("truss-only", "rescue-truck", "cast-centre")
"""The demos."""

KINDS = {"float": float, "int": int, "str": str}

Json = dict[str, object]


def save(rows: list[Figures], path: Path) -> None:
    """Write results, four figures each."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADINGS)
        for row in rows:
            writer.writerow([f"{value:.4g}" if isinstance(value, float) else value for value in astuple(row)])


def load(path: Path) -> dict[str, list[Figures]]:
    """Results of one job by the way of walking."""
    kinds = {field.name: KINDS[str(field.type)] for field in fields(Figures)}
    ways: dict[str, list[Figures]] = {}
    with path.open(encoding="utf-8", newline="") as file:
        for line in csv.DictReader(file):
            row = Figures(**{name: kinds[name](value) for name, value in line.items()})
            ways.setdefault(row.walk, []).append(row)
    return ways


def summarise(folder: Path) -> None:
    """Write summary.json from the results of all jobs that are there."""
    found = {
        name: _summary(load(folder / f"{name}.csv")) for name in JOBS if (folder / f"{name}.csv").exists()
    }
    text = json.dumps(found, indent=1)
    (folder / "summary.json").write_text(text + "\n", encoding="utf-8", newline="\n")


def _summary(ways: dict[str, list[Figures]]) -> Json:
    elastic = ways[ELASTIC]
    out: Json = {"plans": len(elastic)}
    for walk, rows in ways.items():
        if len(rows) == len(elastic):
            out[walk] = _rounded(_one(elastic, rows))
        else:
            common, ours = (next(row for row in rows if row.plan == name) for name in (COMMON, OURS))
            demand = {"common practice": common.tack_demand, "ours": ours.tack_demand}
            out[walk] = {
                "ours_over_common": round(ours.distortion_mm / common.distortion_mm, 3),
                "tack_demand": demand,
            }
    return out


def _one(elastic: list[Figures], rows: list[Figures]) -> Json:
    families = dict.fromkeys(row.family for row in rows if row.family)
    held = [row for row, before in zip(rows, elastic, strict=True) if before.tack_demand <= 1]
    return {
        **asdict(compared(elastic, rows)),
        "most_ductility_of_a_tack": max(row.tack_ductility for row in rows),
        "plans_the_elastic_walk_says_hold": len(held),
        "most_ductility_of_a_tack_in_them": max((row.tack_ductility for row in held), default=0.0),
        "plans_with_tacks_that_yield": sum(row.tacks_yielding > 0 for row in rows),
        "most_ductility_of_a_bead": max(row.bead_ductility for row in rows),
        "um_per_hour_waited": {name: 1e3 * change_per_hour(rows, name) for name in families},
    }


def _rounded(value: Json) -> Json:
    rounded: Json = json.loads(json.dumps(value), parse_float=lambda text: round(float(text), 3))
    return rounded
