"""Everything that can go wrong for a user, as one tree.

Every message names the field, the value met, what is allowed and the remedy:

    AxlewrightError
    ├── JobFileError     the job file cannot be read or does not describe a housing
    ├── GeometryError    the dimensions are readable but do not fit together
    ├── ProcedureError   the work itself must not go ahead as described
    ├── LogError         a bead log cannot be read, or an entry of it cannot be used
    ├── ReadingsError    straightness readings cannot be read, or an entry of them cannot be used
    ├── ShopFileError    a shop file cannot be read
    ├── OptionError      an option asks for what there is not
    ├── RecordError      the job record cannot be opened, read or written to as asked
    │   ├── NotInRecordError     what is asked for is not in the record
    │   ├── DamagedRecordError   the file of the record is damaged
    │   └── SignedOffError       what was signed off is changed without a reason
    ├── WorkError        long work was stopped, or broke
    └── OutputError      a result cannot be written
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong, in the user's words."""

    where: str
    value: str
    allowed: str
    remedy: str

    def __str__(self) -> str:
        found = f" is {self.value}" if self.value else ""
        return f"{self.where}{found}: {self.allowed}. {self.remedy}"


class AxlewrightError(Exception):
    """Base of every error meant for the user's eyes; carries one or more faults."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


class JobFileError(AxlewrightError):
    """The job file cannot be read or breaks the rules of its fields."""


class GeometryError(AxlewrightError):
    """The dimensions are readable but do not fit together."""


class ProcedureError(AxlewrightError):
    """The work must not go ahead as described, for a reason of metallurgy or safety."""


class LogError(AxlewrightError):
    """A bead log cannot be read, or an entry of it cannot be used."""


class ReadingsError(AxlewrightError):
    """A file of straightness readings cannot be read, or an entry of it cannot be used."""


class ShopFileError(AxlewrightError):
    """A shop file, or what is to be learned into it, cannot be read."""


class OptionError(AxlewrightError):
    """An option of a command asks for something that does not exist."""


class OutputError(AxlewrightError):
    """A result cannot be written where it was asked for."""


class RecordError(AxlewrightError):
    """The job record cannot be opened, read or written to as asked."""


class NotInRecordError(RecordError):
    """What is asked for is not in the record."""


class DamagedRecordError(RecordError):
    """The file of the job record is damaged; the message names the last good copy, if there is one."""


class SignedOffError(RecordError):
    """Something that was signed off would be changed without saying why."""


class WorkError(AxlewrightError):
    """Long work was stopped, or it broke."""
