"""A companion made up for tests: it follows the plan bead by bead and works out no heat."""

from __future__ import annotations

import asyncio
import json
import threading
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import JSONResponse, Response, StreamingResponse

BEADS = 12
WAIT_S = 2.0
REFUSAL = {"where": "bead", "value": "Z9", "allowed": "is not in the plan", "remedy": "Choose another."}


def iso(moment: datetime) -> str:
    """A moment as it is told."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def shown(bead: dict[str, Any], inch: bool = False) -> dict[str, Any]:
    """A bead of plan.json as a Following has it."""
    scale, unit = (1 / 25.4, "in") if inch else (1.0, "mm")
    marks = {end: f"{round(bead[f'{end}_mm'] * scale)} {unit}" for end in ("from", "to")}
    keys = ("tag", "number", "attachment", "seam", "direction", "turn_deg", "position", "spot_c")
    return {
        **{key: bead[key] for key in keys},
        **marks,
        "datum": "outer face of the left knuckle flange",
        "turn": "as on the vehicle",
        "turns": False,
        "wait_s": WAIT_S,
        "start_at": "",
        "spot": f"{bead['spot_c']:.0f} °C",
        "limit": "65 °C",
        "throat": "3.5 mm",
    }


@dataclass
class Companion:
    """What was told, and what is answered.

    Args:
        beads: of plan.json, in order.
        plan: number of the plan's event.
        tacks: how many are to be set.
        wait_s: what each bead waits [s].
        more: put over every answer: what a test wants said.
    """

    beads: list[dict[str, Any]]
    plan: int = 2
    tacks: int = 0
    wait_s: float = WAIT_S
    inch: bool = False
    more: dict[str, Any] = field(default_factory=dict)
    events: list[dict[str, Any]] = field(default_factory=list)
    posts: int = 0
    breaks: int = 0
    refuses: bool = False
    lock: threading.Lock = field(default_factory=threading.Lock)

    def take(self, told: dict[str, Any]) -> int:
        """Write an event down once; its number."""
        with self.lock:
            self.posts += 1
            for number, event in enumerate(self.events, start=10):
                if event["key"] == told["key"]:
                    return number
            self.events.append(told)
            return len(self.events) + 9

    def counting(self) -> list[dict[str, Any]]:
        """Events that were not taken back or put right."""
        gone: set[int] = set()
        for number, event in reversed(list(enumerate(self.events, start=10))):
            if number not in gone and (amended := self.amended(event)):
                gone.add(amended)
        kept = enumerate(self.events, start=10)
        return [e for number, e in kept if number not in gone and e["kind"] == "bench"]

    def amended(self, event: dict[str, Any]) -> int:
        """Number of the event that this one puts right or takes back; 0 where it does neither."""
        keys = {one["key"]: number for number, one in enumerate(self.events, start=10)}
        return event.get("amends") or keys.get(event.get("amends_key", ""), 0)

    def following(self) -> dict[str, Any]:
        """Where it stands."""
        events, now = self.counting(), datetime.now(UTC)
        laid = [e["bead"] for e in events if e["event"] == "stop"]
        skipped = {e["bead"] for e in events if e["event"] == "skip"}
        starts = [e for e in events if e["event"] == "start" and e["bead"] not in laid]
        burning = {"tag": starts[-1]["bead"], "since": starts[-1]["told_at"]} if starts else None
        tacked = any(e["event"] == "tacks done" for e in events)
        tacks = self.tacks if tacked else sum(e["event"] == "tack" for e in events)
        ends = [e["told_at"] for e in events if e["event"] == "stop"]
        earliest = datetime.fromisoformat(ends[-1]) + timedelta(seconds=self.wait_s) if ends else now
        left = [b for b in self.beads if b["tag"] not in laid and b["tag"] not in skipped]
        if burning:
            left = [bead for bead in left if bead["tag"] != burning["tag"]]
        next_ten = [
            shown(b, self.inch)
            | {"start_at": iso(earliest + timedelta(seconds=k * 20)), "wait_s": self.wait_s}
            for k, b in enumerate(left[:10])
        ]
        begun = "not begun" if tacks < self.tacks and not tacks else "tacking"
        state = "welding" if burning else begun if tacks < self.tacks else "waiting" if left else "done"
        readings = [e for e in events if e["event"] == "temperature"]
        drift = [
            {
                "at": e["told_at"],
                "place": e.get("bead") or e.get("what"),
                "expected_c": 41.0,
                "measured_c": float(e["value"].split()[0]),
                "within": True,
            }
            for e in readings
        ]
        return {
            "number": len(self.events) + 9,
            "at": iso(now),
            "plan": self.plan,
            "state": state,
            "laid": len(laid),
            "of": len(self.beads),
            "tacks_set": tacks,
            "tacks_of": self.tacks,
            "burning": burning,
            "next": next_ten,
            "changed": [],
            "drift": drift,
            "spot_now_c": 44.0,
            "spot_now": "44 °C",
            "hottest_c": 58.0,
            "shape": {},
            "stop": None,
            "doubts": [],
        } | self.more


def join(app: FastAPI, companion: Companion) -> None:
    """Have the companion answer the addresses of the bench."""

    async def events(request: Request) -> Response:
        if companion.breaks > 0:
            companion.breaks -= 1
            companion.take(await request.json())
            return JSONResponse({}, 503)
        if companion.refuses:
            return JSONResponse({"faults": [REFUSAL]}, 422)
        return JSONResponse({"number": companion.take(await request.json()), "at": iso(datetime.now(UTC))})

    async def following() -> Response:
        return JSONResponse(companion.following())

    async def stream() -> Response:
        async def lines() -> AsyncIterator[str]:
            last = ""
            for _ in range(6000):
                answer = companion.following()
                mark = json.dumps([answer["number"], companion.more])
                if mark != last:
                    last = mark
                    yield f"event: following\ndata: {json.dumps(answer)}\n\n"
                await asyncio.sleep(0.05)

        return StreamingResponse(lines(), media_type="text/event-stream")

    for path, answers, method in (
        ("events", events, "POST"),
        ("following", following, "GET"),
        ("stream", stream, "GET"),
    ):
        app.add_api_route(f"/jobs/{{job}}/bench/{path}", answers, methods=[method], include_in_schema=False)
        # Asked before the pages of the shop.
        app.router.routes.insert(0, app.router.routes.pop())
