"""Pages from templates."""

from __future__ import annotations

import hashlib
import logging
import tempfile
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined, select_autoescape
from jinja2.bccache import Bucket

from axlewright.tasks.telling import new_key
from axlewright.web import in_words

HERE = Path(__file__).parent
STATIC = HERE / "static"

log = logging.getLogger(__name__)

environment = Environment(
    loader=FileSystemLoader(HERE / "templates"),
    autoescape=select_autoescape(("html", "svg")),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)


def asset(path: str) -> str:
    """Address of a file that stands still, with a mark of its content: it may be kept for as long as it is the same."""
    file = STATIC / path
    return f"/static/{path}?v={_mark(file, file.stat().st_mtime_ns)}"


@lru_cache(maxsize=200)
def _mark(file: Path, changed: int) -> str:
    """Mark of a file's content; `changed` [ns] makes it new when the file is."""
    return hashlib.sha256(file.read_bytes()).hexdigest()[:12]


environment.globals |= {"new_key": new_key, "asset": asset}
environment.filters |= {
    "when": in_words.when,
    "day": in_words.day,
    "exactly": in_words.exactly,
    "bytes": in_words.size,
    "event_words": in_words.event_words,
    "pair_of": lambda words: (words, words),
}


class _Compiled(FileSystemBytecodeCache):
    """Compiled templates in a folder; a page does not fail where one cannot be kept, on a full disk for one."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep one, if that can be done."""
        with suppress(OSError):
            super().dump_bytecode(bucket)


def keep_compiled(folder: Path) -> None:
    """Keep compiled templates in a folder, where that can be written to: the next start need not compile them."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            environment.bytecode_cache = _Compiled(str(folder))
    except OSError:
        log.info("Templates are compiled at each start: %s cannot be written to", folder)


def who_is_there(request: Request) -> str:
    """The name given on this device, or ""."""
    return unquote(request.cookies.get("who", ""))[:200]


def page(request: Request, template: str, status: int = 200, **context: Any) -> HTMLResponse:
    """A page, or the part of one that is asked for, from a template."""
    told = {"request": request, "who": who_is_there(request), **context}
    return HTMLResponse(environment.get_template(template).render(told), status_code=status)
