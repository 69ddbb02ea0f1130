"""What the plan looks like at a terminal of eighty columns."""

from __future__ import annotations

import dataclasses
import io
import re
from functools import cache

import pytest
from rich.cells import cell_len
from rich.console import Console
from sample_report import sample_report

from axlewright.cli import lines, show
from axlewright.cli.beads import bead_table
from axlewright.plan.report import PlanReport
