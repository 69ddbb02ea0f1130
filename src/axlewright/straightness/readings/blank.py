"""A form to fill in: a CSV file for one job with its stations and nothing measured yet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from axlewright.job.schema import Job
from axlewright.straightness.readings.reading import Side
from axlewright.straightness.readings.stations import SIDES, Station, open_sides, stations
from axlewright.straightness.readings.writing import length_cell

COLUMNS = (
    *("kind", "setup", "at", "side", "end", "sense", "gap", "total", "clock", "angle"),
    *("front", "rear", "diameter", "error", "note"),
)

_Cells = dict[str, str]

_Section = tuple[tuple[str, ...], list[_Cells]]
"""What to do, and the lines to fill in."""


def blank_csv(job: Job) -> str:
    """Text of a CSV form for a job: what to read where, quickest ways first; read back, it is an empty form.

    The same form serves before and after welding, for its stations are clear of what is welded on.
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    text.writelines(f"# {line}\n" for line in _heading(job))
    writer.writeheader()
    for title, rows in _sections(job):
        text.writelines(f"# {line}\n" for line in title)
        writer.writerows(rows)
    return text.getvalue()


def _heading(job: Job) -> Iterator[str]:
    """What stands on top; without commas and semicolons so that a spreadsheet keeps it in one cell."""
    unit = "inches" if job.inch else "millimetres"
    yield f"Straightness readings of {_plain(job.job.name)} {_plain(job.job.reference)}".strip()
    yield "name: "
    yield f"Write what you read into the empty cells. Bare numbers are {unit} and degrees."
    yield "A line left empty is skipped. No kind has to be complete. Other kinds: docs/readings.md."
    yield "at: what the tape reads from the outer face of the left knuckle flange. Left is the driver's left."


def _sections(job: Job) -> Iterator[_Section]:
    yield from _on_the_flanges()
    yield from _on_the_tubes(job)


def _on_the_flanges() -> Iterator[_Section]:
    yield (
        (
            "QUICKEST FOR CAMBER: angle finder on both flange faces as the housing lies on the vehicle.",
            "Positive with the top outward.",
            "Level: on a straight bar from flange to flange. Positive with the left end higher.",
        ),
        [_angle("left", "camber"), _angle("right", "camber"), _angle("across", "level")],
    )
    yield (
        (
            "QUICKEST FOR TOE OF BOTH ENDS TOGETHER: tape between the same two marks in front of and behind the axle.",
            "Bars or discs stand on both flanges. Diameter: from the front mark to the rear mark.",
        ),
        [{"kind": "toe", "setup": "toe tape"}],
    )
    yield (
        (
            "TOE OF EACH END: angle finder on both flange faces with the housing on its side. Positive for toe-in.",
            "Level on side: the bar from flange to flange again. Positive with the left end farther forward.",
        ),
        [_angle("left", "toe"), _angle("right", "toe"), _angle("across", "level on side")],
    )
    yield (
        (
            "TWIST OF ONE FLANGE AGAINST THE OTHER: angle finder on the fore-aft lean of both.",
            "Do not move the housing in between. Positive with the top rearward.",
        ),
        [_angle("left", "caster"), _angle("right", "caster")],
    )


def _on_the_tubes(job: Job) -> Iterator[_Section]:
    places = stations(job)
    yield (
        (
            "QUICKEST FOR BOW SEEN FROM ABOVE: string along the front. Gap from string to skin.",
            "Stretch it over equal blocks on the flanges so that it clears the centre. Do not move it in between.",
        ),
        _strings(job, places, "front"),
    )
    yield (
        (
            "QUICKEST FOR BOW SEEN FROM THE FRONT: string along the bottom in the same way.",
            "A straightedge on one tube instead: write gap for string as kind.",
        ),
        _strings(job, places, "bottom"),
    )
    yield (
        (
            "BOW IN BOTH PLANES AND MOST EXACT: dial indicator and the housing turned between centres.",
            "Total: highest less lowest. Clock: mark under the dial at the highest.",
            "The clock is painted on the tube as seen from the right end: 12 top and 3 front.",
        ),
        [_runout(job, place) for place in places],
    )


def _angle(end: str, sense: str) -> _Cells:
    setup = "on its side" if sense in ("toe", "level on side") else "as on the vehicle"
    return {"kind": "angle", "setup": setup, "end": end, "sense": sense}


def _strings(job: Job, places: tuple[Station, ...], side: Side) -> list[_Cells]:
    setup = f"{side} string"
    rows = []
    for at, _ in places:
        if side in open_sides(job, at):
            rows.append({"kind": "string", "setup": setup, "at": length_cell(at, job), "side": side})
    return rows


def _runout(job: Job, place: Station) -> _Cells:
    """A line for the dial; where something will stand in its way, it can be read before welding only."""
    free = set(open_sides(job, place.at)) == set(SIDES)
    cells = {"kind": "runout", "setup": "between centres", "at": length_cell(place.at, job)}
    return cells if free else cells | {"note": "before welding only"}


def _plain(text: str) -> str:
    """Text for a heading: one line without separators."""
    return " ".join(text.replace(",", " ").replace(";", " ").replace('"', " ").split())
