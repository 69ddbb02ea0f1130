"""Whether all is well, versions, and backups."""

from __future__ import annotations

from fastapi import APIRouter

from axlewright.tasks.archives import make_backup, versions
from axlewright.web.api.answers import BackupTold, Health, Version
from axlewright.web.api.errors import refusals
from axlewright.web.api.parameters import Shop

router = APIRouter(tags=["shop"])


@router.get("/health", responses=refusals())
def health(shop: Shop) -> Health:
    """Whether the record can be read."""
    return Health(status="ok", jobs=len(shop.store.jobs()))


@router.get("/version", responses=refusals())
def version() -> Version:
    """Versions of what is here."""
    return Version.model_validate(versions())


@router.post("/backups", status_code=201, responses=refusals())
def back_up(shop: Shop) -> BackupTold:
    """Make a backup of the whole record; older ones are cleared as docs/archive.md says."""
    path = make_backup(shop.store, shop.data)
    return BackupTold(name=path.name, size=path.stat().st_size)
