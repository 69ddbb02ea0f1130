"""What beads are called at the bench, whatever order they are laid in.

Seams are lettered in the order of the job, and the beads of a seam are numbered from its start: C7 is the
seventh bead of the third seam.
"""

from __future__ import annotations

from string import ascii_uppercase

from axlewright.housing.assembly import Assembly


def letters(number: int) -> str:
    """A, B ... Z, AA, AB ... for 0, 1 ... 25, 26, 27 ..."""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, len(ascii_uppercase))
        text = ascii_uppercase[rest] + text
    return text


def bead_tags(assembly: Assembly) -> tuple[str, ...]:
    """What each bead is called, in the order of their numbers."""
    count = [0] * len(assembly.seams)
    tags = []
    for bead in assembly.beads:
        count[bead.seam] += 1
        tags.append(f"{letters(bead.seam)}{count[bead.seam]}")
    return tuple(tags)
