"""The scripts of the weld page, which a device keeps for when the shop's computer is away."""

from __future__ import annotations

MODULES = (
    "weld.js",
    "arc.js",
    "awake.js",
    "clock.js",
    "dialogs.js",
    "drift.js",
    "entries.js",
    "following.js",
    "marks.js",
    "outbox.js",
    "project.js",
    "screen.js",
    "sound.js",
    "tacks.js",
)
"""In `static/weld`; the first one begins. They fetch one another by name, so each is kept under its plain address."""
