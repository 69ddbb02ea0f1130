"""The modes over the skin, in a file of their own beside a model: only pictures need them, no plan waits for them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from axlewright.distortion.store import load_arrays, save_arrays
from axlewright.heat.reduce import HeatModes
from axlewright.heat.skin import SkinHeat

ENDING = ".skin"


def skin_path(model: Path) -> Path:
    """Where the skin of a model is kept."""
    return model.with_suffix(ENDING)


def save_skin(model: Path, skin: SkinHeat) -> bool:
    """Keep a skin beside its model; False if the disk does not allow it."""
    arrays: dict[str, Any] = {"rate": skin.modes.rate, "inlet": skin.modes.inlet, "shapes": skin.shapes}
    return save_arrays(skin_path(model), arrays)


def load_skin(model: Path, modes: HeatModes) -> SkinHeat | None:
    """The skin kept beside a model, if it is there, sound, and belongs to these very modes."""
    arrays = load_arrays(skin_path(model))
    if arrays is None or set(arrays) != {"rate", "inlet", "shapes"}:
        return None
    same = np.array_equal(arrays["rate"], modes.rate) and np.array_equal(arrays["inlet"], modes.inlet)
    return SkinHeat(modes, arrays["shapes"].astype(np.float32, copy=False)) if same else None
