"""Jobs made up for tests and pictures: nothing in them was measured."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from itertools import count

from PIL import Image, ImageDraw

from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.record.events import Document, Event
from axlewright.record.stages import stages
from axlewright.record.store import Store
from axlewright.tasks.keeping import say_stage, sign, start_job, write_note
from axlewright.tasks.photographs import add_photograph
from axlewright.tasks.standing import stands as state
from axlewright.tasks.telling import Telling

SVG = b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 80"><style>path{stroke:#1c2226;fill:none}</style>
<path d="M10 40H190M60 20V60M140 20V60"/></svg>"""
PDF = b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj 2 0 obj<</Type/Pages/Kids[]/Count 0>>endobj"


@dataclass(frozen=True)
class MadeUp:
    """A job that is written on by Ann.

    Args:
        store: the record.
        job: the job.
    """

    store: Store
    job: str

    def tell(self, kind: str, body: dict[str, object], *documents: Document, reason: str = "") -> Event:
        """Write an event of any kind."""
        told = Telling("Ann", reason=reason)
        return self.store.append(self.job, told.event(kind, body, documents))

    def readings(self, which: str) -> Event:
        """The demo's readings before or after the work."""
        text = demo_readings("rescue-truck", which).encode()
        document = Document("readings.csv", "text/csv", text)
        return self.tell("readings", {"set": which, "used": 30, "refused": 0}, document)

    def plan(self, beads: int = 36) -> Event:
        """A plan with sheets, none of which says anything."""
        body = {
            "stands_on": {"job_file": 1},
            "chosen": 1,
            "recommended": 1,
            "beads": beads,
            "bench_min": 43.0,
        }
        return self.tell(
            "plan",
            body,
            Document("plan.json", "application/json", b"{}"),
            Document("weld-map-1.svg", "image/svg+xml", SVG),
            Document("work-sheet-a4.pdf", "application/pdf", PDF),
            Document("work-sheet-us-letter.pdf", "application/pdf", PDF),
            Document("weld-map-1.png", "image/png", picture("PNG", 400, 160)),
        )

    def check(self, answer: str = "inside") -> Event:
        """A check of the last readings."""
        known = state(self.store, self.job)
        stands_on = {
            "job_file": 1,
            "before": known.number_of("readings before"),
            "after": known.number_of("readings after"),
        }
        words = f"The housing is {answer} what this job asks"
        return self.tell("check", {"stands_on": stands_on, "answer": answer, "words": words})

    def sign(self, hold_point: str) -> Event:
        """Sign a hold point, every line found so."""
        lines = next(
            len(s.hold_point.items) for s in stages() if s.hold_point and s.hold_point.name == hold_point
        )
        return sign(self.store, self.job, hold_point, (True,) * lines, Telling("Ann"))

    def done(self, stage: str) -> Event:
        """Say that a stage is done; what it still needs is explained by a note."""
        return say_stage(self.store, self.job, stage, True, Telling("Ann"), "as agreed")

    def up_to(self, last: str) -> MadeUp:
        """Walk the job through its stages, that one included."""
        does = {"intake": lambda: self.readings("before"), "fit-up": self.plan, "check": self._checked}
        for stage in stages():
            does.get(stage.name, int)()
            if stage.hold_point is not None:
                self.sign(stage.hold_point.name)
            self.done(stage.name)
            if stage.name == last:
                break
        return self

    def _checked(self) -> None:
        self.readings("after")
        self.check()


def made_up(store: Store, name: str = "", reference: str = "") -> MadeUp:
    """A job from the demo's file, called otherwise where a name is given."""
    text = demo_text("rescue-truck")
    if name:
        text = re.sub(r'^name = ".*"', f'name = "{name}"', text, count=1, flags=re.MULTILINE)
        text = re.sub(r'^reference = ".*"', f'reference = "{reference}"', text, count=1, flags=re.MULTILINE)
    return MadeUp(store, start_job(store, text, "job.toml", Telling("Ann")).job)


def long_job(store: Store, events: int = 2000) -> MadeUp:
    """A job of 100 beads with so many events."""
    job = made_up(store)
    job.readings("before")
    job.plan(100)
    for number in count(4):
        if number > events:
            break
        body = {
            "event": "bead",
            "bead": f"A{number % 100 + 1}",
            "start": f"{number} mm",
            "end": f"{number + 50} mm",
        }
        job.tell("bench", body)
    return job


def lived_in(store: Store) -> MadeUp:
    """A job that something of every kind was told about."""
    job = made_up(store).up_to("fit-up")
    write_note(store, job.job, "The left seal weeps; the customer knows.", Telling("Ben"), "intake")
    add_photograph(store, job.job, picture("JPEG"), "Left flange before any work", "intake", Telling("Ben"))
    add_photograph(store, job.job, picture("PNG"), "Old bracket, cut proud", "strip", Telling("Ann"))
    job.tell("bench", {"event": "temperature", "bead": "A3", "value": "62 degC"})
    job.tell("set-up reading", {"what": "preload", "value": "1.2 N.m"})
    taken = write_note(store, job.job, "Written on the wrong job", Telling("Ben"))
    job.store.append(
        job.job,
        Telling("Ben", amends=taken.number).event("withdrawal", {"words": "it belongs to another job"}),
    )
    changed = Document("readings.csv", "text/csv", demo_readings("rescue-truck", "before").encode())
    job.tell("readings", {"set": "before", "used": 29, "refused": 1}, changed, reason="One line was misread")
    return job


def picture(kind: str = "JPEG", width: int = 640, height: int = 480) -> bytes:
    """A picture with a line drawing in it, as a file of some format."""
    drawn = Image.new("RGB", (width, height), "#d8d2c4")
    pen = ImageDraw.Draw(drawn)
    pen.line((0, height // 2, width, height // 2), fill="#1c2226", width=8)
    pen.ellipse((width * 0.35, height * 0.2, width * 0.65, height * 0.8), outline="#1c2226", width=8)
    out = io.BytesIO()
    drawn.save(out, kind)
    return out.getvalue()
