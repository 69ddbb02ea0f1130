"""Which uncertain input a figure depends on most."""

from __future__ import annotations

import numpy as np

from axlewright.solid.mesh import Floats


def variance_shares(inputs: Floats, figure: Floats) -> Floats:
    """Share of a figure's variance, in ranks, that goes with each input.

    The squared coefficients of a linear regression of the ranks of the figure on the ranks of the inputs, all
    standardised. For inputs drawn independently they add up to about the share of the variance that the regression
    explains; what is left to one is inputs acting together, and ups and downs that ranks do not follow.

    Args:
        inputs: drawn inputs, or anything that grows with each, shape (draws, inputs).
        figure: shape (draws,).

    Returns:
        shape (inputs,), each from 0 to about 1 [1]; all zero for a figure that does not vary.

    Source: Iman and Conover, "The use of the rank transform in regression", Technometrics 21 (1979); squared
        standardised coefficients as shares: Saltelli and others, Sensitivity Analysis, 2000, chapter 6 (both from
        memory).
    Valid: independent inputs, several times more draws than inputs, figures that rise or fall with each input.
    Raises: nothing.
    """
    ranks = _standard(np.array([ranked(column) for column in inputs.T]).T.reshape(inputs.shape))
    wanted = _standard(ranked(np.round(figure, 12))[:, None])
    coefficients = np.linalg.lstsq(ranks, wanted, rcond=None)[0]
    return np.asarray(np.square(coefficients[:, 0]))


def ranked(values: Floats) -> Floats:
    """Rank of each value from 1, equal ones sharing the middle of theirs, shape of `values`.

    The library's own (scipy.stats) would cost every start of the program a third of a second.
    """
    _, place, counts = np.unique(values, return_inverse=True, return_counts=True)
    return np.asarray((np.cumsum(counts) - (counts - 1) / 2)[place])


def _standard(ranks: Floats) -> Floats:
    """Mean nought and standard deviation one, down each column; nought where nothing varies."""
    off = ranks - ranks.mean(axis=0)
    spread = off.std(axis=0)
    return np.asarray(off / np.where(spread > 0, spread, 1.0))
