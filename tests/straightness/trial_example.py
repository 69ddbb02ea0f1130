"""An invented shop: a metre of scrap tube, its welder, and a trial sheet as somebody might fill it in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import numpy as np

from axlewright.job.settings import Welder
from axlewright.shop.factors import PRIOR_SPREAD
from axlewright.solid.mesh import Floats
from axlewright.straightness.learn.trial import Trial, TrialTube
from axlewright.straightness.learn.trial_design import plan_trial
from axlewright.straightness.learn.trial_fitted import response_of
from axlewright.straightness.learn.trial_plan import TrialPlan
from axlewright.straightness.learn.trial_reading import parse_trial
from axlewright.straightness.learn.trial_response import Response
from axlewright.straightness.learn.trial_template import trial_template

WELDER = Welder(volts=22.0, amps=180.0, travel_speed=6e-3, wire_diameter=1e-3, wire_feed=8.0 / 60.0)
TUBE = TrialTube(outside_diameter=88.9e-3, wall=9.5e-3, length=1.0)
THICK = TrialTube(outside_diameter=114e-3, wall=12.7e-3, length=1.0)

TEXT = """
units = "mm"

[trial]
name = "solid wire, 1.0 mm"

[tube]
outside_diameter = 88.9
wall = 9.5
length = 1000
right_support = 970

[welder]
volts = 22
amps = 180
travel_speed = 360
wire_diameter = 1.0
wire_feed = 8

[bend]
by = "dial"

[[bead]]
from = 360
to = 460
start = "0:00"
arc_seconds = 17
read_at = "6:30"
reading = 0.21

[[bead]]
from = 540
to = 640
start = "7:30"
reading = 0.45

[[bead]]
at = 500
from = -30
to = 30
start = "14:30"
read_at = "19:30"
reading = 0.70

[thermometer]
at = 410
round = 20

[[temperature]]
time = "1:15"
reading = 115

[[temperature]]
time = "2:00"
reading = ""
"""

BENDS = "# (?:mm|in), about (\\S+) (?:mm|in) more than.*"
DEGREES = "# deg[CF], about (\\S+) deg[CF] expected"


@cache
def planned() -> TrialPlan:
    """The trial for the usual tube."""
    return plan_trial(TUBE, WELDER)


def filled(text: str) -> str:
    """A trial file with every box filled in as planned and expected."""
    text = re.sub(r'= ""  # planned (\S+)', r'= "\1"', text)
    text = re.sub(r'= ""  # about (\d+) s planned', r"= \1", text)
    return re.sub(f'= ""  (?:{BENDS}|{DEGREES})', lambda found: f"= {found.group(1) or found.group(2)}", text)


def as_read(text: str, readings: Floats, inch: bool = False) -> str:
    """A trial file filled in as planned, with bends [m] and temperatures over 20 degC [K] as they were read."""
    bends = text.count("than before the first arc expected")
    scale = np.where(np.arange(len(readings)) < bends, 1 / 0.0254 if inch else 1e3, 1.8 if inch else 1.0)
    offset = np.where(np.arange(len(readings)) < bends, 0.0, 68.0 if inch else 20.0)
    values: Iterator[float] = iter(readings * scale + offset)
    return filled(
        re.sub(f'reading = ""  (?:{BENDS}|{DEGREES})', lambda _: f"reading = {next(values):.6f}", text)
    )


@cache
def laid() -> tuple[Trial, Response]:
    """The trial laid exactly as planned, and what the model shows of it."""
    trial = parse_trial(filled(trial_template(planned(), False)), "trial.toml")
    return trial, response_of(trial)[0]


def simulated(response: Response, logs: Floats, chance: np.random.Generator) -> Floats:
    """Readings of a shop whose factors are known, with every error drawn."""
    common = response.errors(logs)
    own = np.hypot(response.error, np.exp(logs[2]) * response.timing)
    drawn = common @ chance.standard_normal(common.shape[1]) + own * chance.standard_normal(len(own))
    return response.predicted(logs) + drawn


def shops(count: int, chance: np.random.Generator) -> Floats:
    """Logarithms of the factors of invented shops: shrinkage off by up to 40 %, the rest as known before."""
    logs = PRIOR_SPREAD * chance.standard_normal((count, 4))
    logs[:, :2] = np.log(1.0 + chance.uniform(-0.4, 0.4, (count, 2)))
    return logs
