"""Where the springs of each bead find their zeros, bead after bead."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from axlewright.distortion.functionals import SPRINGS
from axlewright.solid.mesh import Floats, Ints


@dataclass(frozen=True)
class TacksUnder:
    """The tacks as the beads of a plan find them.

    Args:
        place: place of each tack's stretch in the order laid, shape (T,); beyond the end if no bead reaches it.
        melted_by: the bead that melts it, shape (T,); beyond the end if none does.
        stiffness: of its springs, shape (T, 4).
        zero: what its rows read when it was set, shape (T, 4).
    """

    place: Ints
    melted_by: Ints
    stiffness: Floats
    zero: Floats


def births(
    lower: Floats, first: Ints, read: Floats, turn: Floats, stiffness: Floats, tacks: TacksUnder
) -> tuple[Floats, Floats]:
    """Zeros of all springs in the space of W = L^-1 g (see `lock_in`), and what melted tacks let go.

    Angular shrinkage turns the zero of a bead's rotation spring. A tack under the bead stays as stiffness; its
    zero moves by what makes its force vanish, which acts on the structure as a pull p on its rows. The bead is
    born on those very rows, so what remains is a shift of its zero: L_RR^T p. The pull follows from what the
    tack reads, and that from the zeros of all beads before, so this part goes bead by bead; the rest is done
    for all beads of one size at once.

    Args:
        lower: Cholesky factor of 1/k + C in order of birth, shape (n, n).
        first: index of the stretch at which each bead begins, and their count, shape (B + 1,).
        read: W at each bead's start and cold, shape (n, B + 1).
        turn: angular shrinkage on the four springs of a stretch, shape (4,).
        stiffness: of the beads' springs, shape (n,).
        tacks: the tacks the beads meet.

    Returns:
        zero and let_go, each shape (n,).
    """
    zero, let_go = np.empty(len(lower)), np.zeros(len(lower))
    releases: list[tuple[int, int, Ints, Floats, Floats, Floats]] = []
    counts = np.bincount(tacks.melted_by, minlength=len(first))[: len(first) - 1]
    sizes = np.diff(first)
    for size, count in {*zip(sizes.tolist(), counts.tolist(), strict=True)}:
        chosen = np.flatnonzero((sizes == size) & (counts == count))
        theirs = (SPRINGS * first[chosen])[:, None] + np.arange(SPRINGS * size)
        blocks = lower[theirs[:, :, None], theirs[:, None, :]]
        born = read[theirs, chosen[:, None]]
        turned = np.linalg.solve(blocks, np.tile(turn, size)[None, :, None])[..., 0]
        zero[theirs] = born + turned
        if count:
            releases += _releases(chosen, theirs, blocks, born, stiffness, tacks)
    for _, held, own, given, matrix, seen in sorted(releases, key=lambda release: release[0]):
        # A slice is not copied, as rows picked one by one are.
        rows = slice(own[0], own[0] + SPRINGS) if len(own) == SPRINGS else own
        pull = matrix @ (lower[rows, :held] @ zero[:held] + seen)
        let_go[own] = pull
        zero[held : held + given.shape[1]] += pull @ given
    return zero, let_go


def _releases(
    beads: Ints, rows: Ints, blocks: Floats, born: Floats, stiffness: Floats, tacks: TacksUnder
) -> list[tuple[int, int, Ints, Floats, Floats, Floats]]:
    """For each bead that melts tacks: bead, rows born before, the tacks' rows, their L, reading to pull, offset.

    All beads given have the same size and melt the same number of tacks.
    """
    order = np.argsort(tacks.melted_by, kind="stable")
    under = order[np.isin(tacks.melted_by[order], beads)].reshape(len(beads), -1)
    own = (SPRINGS * tacks.place[under][:, :, None] + np.arange(SPRINGS)).reshape(len(beads), -1)
    given = np.take_along_axis(blocks, (own - rows[:, :1])[:, :, None], axis=1)
    k = tacks.stiffness[under].reshape(own.shape)
    compliance = given @ given.transpose(0, 2, 1)
    identity = np.eye(own.shape[1])
    compliance -= identity / stiffness[own][:, None, :]
    # What each unit of a tack's stretch gives as pull, its zero moved until its own force vanishes.
    pull = k[:, :, None] * np.linalg.inv(identity - compliance * k[:, None, :])
    seen = (given @ born[:, :, None])[..., 0] - tacks.zero[under].reshape(own.shape)
    return [(int(bead), int(rows[n, 0]), own[n], given[n], pull[n], seen[n]) for n, bead in enumerate(beads)]
