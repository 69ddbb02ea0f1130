"""What happens at the bench as server-sent events, for pages that stay open."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import suppress

from starlette.concurrency import run_in_threadpool

from axlewright.errors import AxlewrightError
from axlewright.web.companion.companions import Companions
from axlewright.web.companion.news import Latest, News

HEARTBEAT = 10.0
"""A stream says so often that it is still there, and looks whether anything was told elsewhere [s]."""

LOOKS = 0.5
"""How often a stream looks whether the shop closes [s]."""

AGAIN = 1000
"""A page whose stream broke asks again after this time [ms]."""


async def stream(companions: Companions, job: str, news: News, heard: str) -> AsyncIterator[bytes]:
    """Events of a job's bench until the page or the shop is closed.

    Args:
        companions: of the shop.
        job: the job.
        news: of the job.
        heard: mark of the last answer that the page has had, or "".
    """
    loop, changed = asyncio.get_running_loop(), asyncio.Event()

    def wake() -> None:
        # The loop may have ended between two events.
        with suppress(RuntimeError):
            loop.call_soon_threadsafe(changed.set)

    yield f"retry: {AGAIN}\n\n".encode()
    with news.listening(wake):
        before, beat = Latest(mark=heard), loop.time() + HEARTBEAT
        while not companions.closing:
            changed.clear()
            now = news.latest
            for message in _new(before, now):
                yield message
            before = (
                now if now.mark else Latest(now.number, mark=before.mark, stage=now.stage, faults=now.faults)
            )
            with suppress(TimeoutError):
                await asyncio.wait_for(changed.wait(), LOOKS)
            if loop.time() >= beat:
                beat = loop.time() + HEARTBEAT
                yield b": still here\n\n"
                # A record that cannot be read just now is told to whoever taps.
                with suppress(AxlewrightError):
                    await run_in_threadpool(companions.look, job)


def _new(before: Latest, now: Latest) -> list[bytes]:
    """What is new since the last look."""
    found = []
    if now.number > before.number:
        found.append(_message("told", json.dumps({"number": now.number})))
    if now.stage and now.stage != before.stage:
        found.append(_message("loading", json.dumps({"stage": now.stage}, ensure_ascii=False)))
    if now.mark and now.mark != before.mark:
        found.append(_message("following", now.text, now.mark))
    if now.faults and now.faults != before.faults:
        found.append(_message("refused", json.dumps({"faults": now.faults}, ensure_ascii=False)))
    return found


def _message(event: str, data: str, mark: str = "") -> bytes:
    """One server-sent event; JSON has no line breaks of its own."""
    named = f"id: {mark}\n" if mark else ""
    return f"event: {event}\n{named}data: {data}\n\n".encode()
