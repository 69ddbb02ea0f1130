"""Work that must not go ahead as described: arc welding a casting that is, or may be, nodular iron.

Nodular iron cracks beside an ordinary weld; it needs its own procedure (preheat, nickel filler, slow
cooling) or no weld at all. A casting nobody has identified is treated as one. Common practice; TWI's
advice on welding nodular iron by manual metal arc asks for 100 to 330 degC of preheat.
"""

from __future__ import annotations

from collections.abc import Iterator

from axlewright.job.faults import Misfit
from axlewright.job.outline import Outline
from axlewright.job.schema import Job

_REMEDY = (
    "Identify the casting first by spark test or chemistry. Until then keep every weld on the tubes: "
    "leave guards off and bridge the centre with clear_of_centre."
)


def forbidden_welds(job: Job) -> Iterator[Misfit]:
    """Every seam that would lie on a casting not known to be steel."""
    casting = job.housing.centre.casting
    if job.housing.family != "cast" or casting == "steel":
        return
    allowed = f"no default procedure exists for a weld on a casting of {_iron(casting)}"
    begin, end = Outline(job).centre_span
    for n, truss in enumerate(job.trusses):
        if truss.clear_of_centre is None and truss.start < end and truss.end > begin:
            yield Misfit(("truss", n, "clear_of_centre"), "missing", allowed, _REMEDY)
    for n, _ in enumerate(job.guards):
        yield Misfit(("guard", n), "a weld on the casting", allowed, _REMEDY)
    for n, bracket in enumerate(job.brackets):
        if begin < bracket.at < end:
            yield Misfit(("bracket", n, "at"), "on the casting", allowed, _REMEDY)


def _iron(casting: str | None) -> str:
    return "nodular iron" if casting == "nodular iron" else "unknown metal"
