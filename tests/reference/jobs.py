"""Jobs for tests: plain tubes and small trusses described as a shop would, and the demos."""

from __future__ import annotations

from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.job.schema import Job

PLAIN_TUBE = """
units = "mm"
[job]
name = "plain tube"
[housing]
family = "pressed"
length = 1000
left_tube = {{outside_diameter = {diameter}, wall = {wall}}}
right_tube = {{outside_diameter = {diameter}, wall = {wall}}}
# A centre of the size of the tube, near the left end: the housing is one plain tube.
centre = {{height = {diameter}, depth = {diameter}, width = 120, wall = {wall}, offset = 380}}
knuckle_flange = {{diameter = 120, thickness = 15}}
[welder]
volts = 22
amps = 180
travel_speed = "6 mm/s"
wire_diameter = 1.0
wire_feed = 8.0
tack_length = 10
{extra}
"""

STRIP = """
[[bracket]]
name = "{name}"
at = {at}
clock = {clock}
length = {length}
height = 10
thickness = 3
lies = "along"
"""


def strip(name: str = "strip", at: float = 500, clock: float = 12, length: float = 500) -> str:
    """A narrow strip of plate along the tube, so slender that the tube hardly notices it."""
    return STRIP.format(name=name, at=at, clock=clock, length=length)


def plain_tube(extra: str = "", diameter: float = 88.9, wall: float = 9.5) -> Job:
    """A plain tube 1 m long between its flanges, with attachments given as TOML."""
    return parse_job(PLAIN_TUBE.format(diameter=diameter, wall=wall, extra=extra), "plain tube")


def demo(name: str) -> Job:
    """A demo job."""
    return parse_job(demo_text(name), name)
