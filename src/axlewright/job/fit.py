"""Whether the dimensions of a job fit together, in closed form and without a mesh.

A check stops at the first thing wrong with an attachment, so that one slip of the tape gives one message.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from axlewright.errors import GeometryError
from axlewright.job.faults import Misfit, faults_of
from axlewright.job.fit_attachments import bracket_misfit, guard_misfit, gusset_misfit, spacer_misfit
from axlewright.job.fit_fixture import fixture_misfits
from axlewright.job.fit_housing import centre_misfit, housing_misfits
from axlewright.job.fit_truss import truss_misfit
from axlewright.job.footprints import collisions
from axlewright.job.lines import Path
from axlewright.job.outline import Outline
from axlewright.job.schema import Attachment, Job
from axlewright.job.stretches import bead_misfits


def check_fit(job: Job, source_name: str = "job") -> None:
    """Refuse a job whose dimensions do not fit together.

    Raises:
        GeometryError: naming every misfit found.
    """
    if found := tuple(misfits(job)):
        raise GeometryError(*faults_of(found, source_name, ""))


def misfits(job: Job) -> Iterator[Misfit]:
    """Everything that does not fit, the housing first; what stands on a wrong base is not looked at."""
    for layer in (
        _names,
        centre_misfit,
        housing_misfits,
        fixture_misfits,
        _attachments,
        collisions,
        bead_misfits,
    ):
        found = list(layer(job))
        yield from found
        if found:
            return


def _names(job: Job) -> Iterator[Misfit]:
    """Names that stand twice among the attachments, the perches or the seals."""
    kinds: dict[str, Sequence[Attachment]] = {
        "truss": job.trusses,
        "guard": job.guards,
        "spacer": job.spacers,
        "gusset": job.gussets,
        "bracket": job.brackets,
    }
    named: list[tuple[Path, str]] = [
        ((key, n), a.name) for key, kind in kinds.items() for n, a in enumerate(kind)
    ]
    yield from _repeated(named, "attachment")
    yield from _repeated(
        [(("housing", "perch", n), p.name) for n, p in enumerate(job.housing.perches)], "perch"
    )
    yield from _repeated([(("housing", "seal", n), s.name) for n, s in enumerate(job.housing.seals)], "seal")


def _repeated(named: list[tuple[Path, str]], what: str) -> Iterator[Misfit]:
    """Every name after its first use."""
    seen: Counter[str] = Counter()
    for path, name in named:
        seen[name] += 1
        if seen[name] > 1:
            yield Misfit(
                (*path, "name"), f'"{name}"', f"another {what} has this name", "Give each its own name."
            )


def _attachments(job: Job) -> Iterator[Misfit]:
    """The first thing wrong with each attachment."""
    outline = Outline(job)
    checks = (
        *(truss_misfit(outline, n, truss) for n, truss in enumerate(job.trusses)),
        *(guard_misfit(outline, n, guard) for n, guard in enumerate(job.guards)),
        *(spacer_misfit(outline, n, spacer) for n, spacer in enumerate(job.spacers)),
        *(gusset_misfit(outline, n, gusset) for n, gusset in enumerate(job.gussets)),
        *(bracket_misfit(outline, n, bracket) for n, bracket in enumerate(job.brackets)),
    )
    yield from (misfit for misfit in checks if misfit is not None)
