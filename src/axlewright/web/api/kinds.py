"""Every kind of event that can be told, each with its own body, as one description that tells them apart by `kind`."""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from operator import or_
from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field, TypeAdapter, create_model

from axlewright.record.kinds import KINDS
from axlewright.tasks.long_asked import OPTIONS
from axlewright.web.api.bodies import NewDocument, Number, Told


class NewEvent(Told):
    """An event to be written down."""

    kind: str
    body: BaseModel
    amends: Number | None = None
    documents: Annotated[list[NewDocument], Field(max_length=20)] = []


class Work(Told):
    """Long work to be begun."""

    kind: str
    options: BaseModel


def _by_kind(base: type[Told], kinds: Mapping[Any, type[BaseModel]], field: str, needed: bool) -> Any:
    """A model for each kind, joined by `kind`."""
    made = []
    for kind, body in kinds.items():
        name = f"{base.__name__}{''.join(word.capitalize() for word in kind.replace('-', ' ').split())}"
        fields: dict[str, Any] = {
            "kind": (Literal[kind], ...),
            field: (body, ...) if needed else (body, Field(default_factory=body)),
        }
        made.append(create_model(name, __base__=base, __doc__=body.__doc__, **fields))
    return Annotated[reduce(or_, made), Field(discriminator="kind")]


NEW_EVENT: TypeAdapter[NewEvent] = TypeAdapter(_by_kind(NewEvent, KINDS, "body", True))
"""An event of any kind."""

WORK: TypeAdapter[Work] = TypeAdapter(_by_kind(Work, OPTIONS, "options", False))
"""Long work of any kind."""
