"""The one thing to do now for a job, and where it is done."""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.record.state import StageState, State


@dataclass(frozen=True)
class Step:
    """Something to do.

    Args:
        words: what it is, as a button says it.
        why: in a sentence, why it is next.
        path: where it is done, after /jobs/{job}.
    """

    words: str
    why: str
    path: str


FOR_NEEDS = {
    "job file": ("Enter the dimensions", "dimensions"),
    "readings before": ("Enter the readings before the work", "readings/before"),
    "plan": ("Make a plan", "plan"),
    "readings after": ("Enter the readings after the work", "readings/after"),
    "check": ("Have the readings judged", "check"),
    "straight": ("See how to bring it back", "correct"),
}
"""What a stage may need, by `record.stages.Need.what`: as a button says it, and the page where it is done."""

PAGES_OF_STAGES = {
    "intake": (
        ("Dimensions", "dimensions"),
        ("Readings before the work", "readings/before"),
        ("Photographs", "photographs"),
    ),
    "strip": (("Photographs", "photographs"),),
    "fit-up": (("Plan", "plan"), ("Printed sheets", "sheets")),
    "tack": (("Weld page", "weld"), ("Plan", "plan"), ("Work sheet", "sheets")),
    "weld": (("Weld page", "weld"), ("Plan", "plan"), ("Work sheet", "sheets")),
    "check": (("Readings after the work", "readings/after"), ("Check", "check")),
    "correct": (("Correction", "correct"), ("Readings after the work", "readings/after")),
    "finish": (("Photographs", "photographs"),),
    "set-up": (("History", "history"),),
    "hand-over": (("Printed sheets", "sheets"), ("History", "history")),
}
"""Pages that help in a stage: words, and path after /jobs/{job}."""


CORRECTED = "Work by the correction sheet, let it cool, measure again; the page Correct says how."


def next_step(state: State) -> Step | None:
    """The one thing to do now; None where every stage is done."""
    if state.finished:
        return None
    here = state.stage
    if here.missing:
        need = here.missing[0]
        if need.what == "straight" and _way_back_known(state):
            return Step("Enter the readings after correcting", CORRECTED, "readings/after")
        words, path = FOR_NEEDS.get(need.what, (need.words, _of(here)))
        return Step(words, f"{need.words}: {here.plan.name} waits for it.", path)
    held = _held(here)
    return held or Step(f"Say that {here.plan.name} is done", here.plan.does, _of(here))


def _way_back_known(state: State) -> bool:
    correction = state.latest.get("correction")
    return correction is not None and state.current(correction)


def _held(here: StageState) -> Step | None:
    point, path = here.hold_point, f"{_of(here)}#hold-point"
    if point is None or (here.signed is not None and here.signed.complete):
        return None
    if here.signed is None:
        return Step("Look and sign", f'The hold point "{point.name}" is signed before the next stage.', path)
    if here.signed.changes:
        return Step(
            "Look and sign again", f'What "{point.name}" covers was changed since it was signed.', path
        )
    return Step("Look at the rest and sign", f'Not every line of "{point.name}" was found so.', path)


def _of(here: StageState) -> str:
    return f"stages/{here.plan.name}"
