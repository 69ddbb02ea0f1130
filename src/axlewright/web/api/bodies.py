"""What requests tell, field by field, and how it is read: strictly, as its description says."""

from __future__ import annotations

from base64 import b64decode
from typing import Annotated, Any, TypeVar

from fastapi import Depends, Request
from pydantic import (
    AwareDatetime,
    BaseModel,
    ConfigDict,
    Field,
    PlainValidator,
    TypeAdapter,
    ValidationError,
    WithJsonSchema,
)

from axlewright.errors import Fault
from axlewright.record.events import Document
from axlewright.record.kinds import SetName, Short, Stage, Words
from axlewright.tasks.telling import Telling, new_key
from axlewright.web.api.errors import MOST_TOLD, NotAsDescribed, fault_of

LARGEST_DOCUMENT = 15_000_000
"""Largest document of an event [byte]."""

LARGEST_NUMBER = 2**31 - 1
_BASE64 = "^(?:[A-Za-z0-9+/]{4})*(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?$"


def _decoded(value: object) -> bytes:
    if not isinstance(value, str) or len(value) > LARGEST_DOCUMENT // 3 * 4:
        raise ValueError(f"must be base64 of at most {LARGEST_DOCUMENT // 10**6} MB")
    try:
        # The decoder of pydantic leaves out what is no base64.
        return b64decode(value, validate=True)
    except ValueError as error:
        raise ValueError("must be base64 (RFC 4648, section 4)") from error


Content = Annotated[
    bytes,
    PlainValidator(_decoded),
    WithJsonSchema(
        {
            "type": "string",
            "contentEncoding": "base64",
            "pattern": _BASE64,
            "maxLength": LARGEST_DOCUMENT // 3 * 4,
        }
    ),
]
Number = Annotated[int, Field(ge=1, le=LARGEST_NUMBER)]
JobText = Annotated[str, Field(min_length=1, max_length=1_000_000)]
Read = TypeVar("Read")


class NewDocument(BaseModel):
    """A file that belongs to an event; `data` is its content in base64 (RFC 4648, section 4)."""

    model_config = ConfigDict(extra="forbid")

    name: Annotated[str, Field(min_length=1, max_length=200)]
    media_type: Annotated[str, Field(max_length=100)] = "application/octet-stream"
    data: Content

    def document(self) -> Document:
        """The document as the record has it."""
        return Document(self.name, self.media_type, self.data)


class Told(BaseModel):
    """Who tells something, and how.

    The same telling sent again (a retry) carries the same `key` and counts once. `told_at` is when it happened by the
    device that tells it; left out, now. `reason` says why something signed off is changed.
    """

    model_config = ConfigDict(extra="forbid")

    who: Annotated[str, Field(min_length=1, max_length=200)]
    key: Annotated[str, Field(min_length=1, max_length=100)] | None = None
    device: Short = ""
    told_at: AwareDatetime | None = None
    reason: Words = ""

    def telling(self, amends: int | None = None) -> Telling:
        """The telling as `tasks` take it."""
        return Telling(self.who, self.key or new_key(), self.device, self.told_at, self.reason, amends)


class JobFile(Told):
    """The text of a job file; docs/job-file.md describes it."""

    text: JobText


class Readings(Told):
    """Straightness readings, as CSV or TOML; docs/readings.md describes them."""

    set: SetName
    text: Annotated[str, Field(min_length=1, max_length=1_000_000)]
    amends: Number | None = None


class Signature(Told):
    """A hold point signed: of each of its lines, in order, whether it was found so."""

    hold_point: Short
    found: Annotated[list[bool], Field(max_length=100)]
    note: Words = ""


class StageSaid(Told):
    """A stage done, or taken up again; where it goes without something it needs, the note says why."""

    stage: Stage
    done: bool
    note: Words = ""


class Withdrawn(Told):
    """An event taken back; it stays in the record, but no longer counts."""

    words: Words = ""


class Stop(BaseModel):
    """How work is stopped: with `keep` a search gives the best plan it has so far."""

    model_config = ConfigDict(extra="forbid")

    keep: bool = True


def read_as(adapter: TypeAdapter[Read]) -> Any:
    """A parameter that is read from a JSON body; no number is taken for a word, nor the other way round."""

    async def read(request: Request) -> Read:
        check_type(request, "application/json")
        try:
            return adapter.validate_json(await request.body(), strict=True)
        except ValidationError as error:
            raise NotAsDescribed(422, *(fault_of(one) for one in error.errors()[:MOST_TOLD])) from error

    return Depends(read)


def takes(name: str) -> dict[str, Any]:
    """The description of a body, by its name in `schema.TAKEN`."""
    schema = {"$ref": f"#/components/schemas/{name}"}
    return {"requestBody": {"required": True, "content": {"application/json": {"schema": schema}}}}


def check_type(request: Request, wanted: str) -> None:
    """See that a body is of a media type.

    Raises:
        NotAsDescribed: it is not.
    """
    told = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if told != wanted:
        fault = Fault("content-type", repr(told[:100]), f"must be {wanted}", "Name what is sent.")
        raise NotAsDescribed(415, fault)


JOB_FILE = TypeAdapter(JobFile)
READINGS = TypeAdapter(Readings)
SIGNATURE = TypeAdapter(Signature)
STAGE_SAID = TypeAdapter(StageSaid)
STOP = TypeAdapter(Stop)
WITHDRAWN = TypeAdapter(Withdrawn)
