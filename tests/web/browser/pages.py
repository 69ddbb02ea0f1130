"""Every page that is looked at in a real browser: add yours here.

{job} is a job that something of every kind was told about, {new} one that was just begun, {bent} one that is outside
its tolerance, {finished} one whose every stage is done, {told} one with a real plan, check and correction.
"""

from __future__ import annotations

PAGES = {
    "jobs": "/",
    "jobs-found": "/?find=rescue&stage=fit-up",
    "job": "/jobs/{job}",
    "job-new": "/jobs/{new}",
    "job-finished": "/jobs/{finished}",
    "stage-changed": "/jobs/{job}/stages/intake",
    "stage-needs": "/jobs/{new}/stages/intake",
    "stage-signed": "/jobs/{finished}/stages/correct",
    "stage-plain": "/jobs/{bent}/stages/check",
    "history": "/jobs/{job}/history",
    "photographs": "/jobs/{job}/photographs",
    "sheets": "/jobs/{job}/sheets",
    "sheets-none": "/jobs/{new}/sheets",
    "plan": "/jobs/{told}/plan",
    "plan-none": "/jobs/{new}/plan",
    "whence": "/jobs/{told}/whence/distortion",
    "readings": "/jobs/{new}/readings/before",
    "readings-told": "/jobs/{told}/readings/after",
    "check": "/jobs/{told}/check",
    "correct": "/jobs/{told}/correct",
    "check-none": "/jobs/{new}/check",
    "correct-none": "/jobs/{new}/correct",
    "new-job": "/jobs/new",
    "dimensions-new": "/jobs/new/dimensions",
    "dimensions": "/jobs/{job}/dimensions",
    "not-there": "/jobs/{job}/nothing-here",
    "offline": "/offline",
    "devices": "/devices",
    "pair": "/pair",
    "controls": "/controls",
}
"""Name, as pictures of it are called, and address."""
