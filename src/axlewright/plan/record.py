"""What all records of files for other programs have in common."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A record that holds its fields and nothing else."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def mm(metres: float) -> float:
    """A length to the micrometre [mm]."""
    return round(1e3 * metres, 3)
