"""A trial as what it says about the shop's factors."""

from __future__ import annotations

from axlewright.shop.evidence import Evidence, Form, Unit, observations
from axlewright.shop.factors import ShopFactors, without_results
from axlewright.straightness.learn.trial import Trial
from axlewright.straightness.learn.trial_fitted import fit_factors, response_of


def trial_evidence(trial: Trial, known: ShopFactors | None = None) -> Evidence:
    """What a trial says about the factors.

    All its readings grow with the heat, the bends with the pull along and across as well, so their form is "factor".
    They are laid out at the factors that fit them best, where the loss and the errors are right; what was known before
    only chooses that place and is not counted again.

    Args:
        trial: the trial as the shop wrote it down.
        known: what was known of the shop before; left out: nothing.

    Raises:
        ShopFileError: the bends have the wrong sign.
    """
    response, measured = response_of(trial)
    fitted = fit_factors(response, measured, without_results() if known is None else known)
    figures: list[tuple[str, Unit, Form]] = [
        (name, "m" if bend else "K", "factor")
        for name, bend in zip(response.names, response.bends, strict=True)
    ]
    made, correlation = observations(figures, measured, fitted.errors, fitted.shown, fitted.sensitivities)
    return Evidence(
        name=trial.trial.name,
        date=trial.trial.date,
        kind="trial",
        observations=made,
        correlation=correlation,
        at=tuple(map(float, fitted.logs)),
        note=trial.trial.notes,
    )
