"""The work bench: pieces of long work, each in a process of its own, and how far they are."""

from __future__ import annotations

import threading
import traceback
from collections import deque
from pathlib import Path
from typing import Any

from axlewright.errors import AxlewrightError, Fault
from axlewright.record.store import Store
from axlewright.tasks.long_asked import LongWork, Worked, long_work, write_down
from axlewright.tasks.long_watch import HowFar
from axlewright.tasks.standing import stands as stands_now
from axlewright.tasks.telling import Telling
from axlewright.web.work.asking import Progress, WorkKind
from axlewright.web.work.messages import Do, FromChild, Keep, Refused
from axlewright.web.work.piece import WRITING, Piece
from axlewright.web.work.traces import broken
from axlewright.web.work.worker import Worker

AT_ONCE = 2
"""So many pieces are worked on at a time; others wait."""

REMEMBERED = 100
"""So many pieces that have ended are remembered."""

FAREWELL = 2.0
"""How long a process that is ended may take to go [s]."""

_CUT_SHORT = str(
    Fault(
        "the work",
        "broken off",
        "its process was ended from outside, or there was not enough memory",
        "Ask for it again; if it happens again, close other programs first.",
    )
)


class WorkBench:
    """Takes long work, tells how far it is, writes the result into the record, stops it when asked.

    Args:
        store: the record that results are written into.
        data: folder of the shop's data, where it is kept what broke; left out, the system's own for passing files.
    """

    def __init__(self, store: Store, data: Path | None = None) -> None:
        self._store, self._data = store, data
        self._lock = threading.RLock()
        self._pieces: dict[str, Piece] = {}
        self._waiting: deque[Piece] = deque()
        self._workers: list[Worker] = []
        self._closed = False

    def ask(self, job: str, kind: WorkKind, options: dict[str, Any], telling: Telling) -> Progress:
        """Begin a piece of work; where the same is already under way for the job, that one.

        Where the same kind is under way with other options, or from what has been changed since, it is stopped and
        this one takes its place. A telling whose key has been heard is not worked on again.

        Raises:
            RecordError: there is no such job, or the record has not got what the work needs.
            SignedOffError: the result would change what is signed off, and the telling gives no reason.
            OptionError: an option is not one of those there are.
        """
        with self._lock:
            heard = self._heard_before(job, kind, telling)
        if heard is not None:
            return heard.progress()
        stands = stands_now(self._store, job)
        told = next((event for event in stands.events if event.key == telling.key), None)
        if told is not None:
            return self._done_before(job, kind, options, telling, told.number)
        work = long_work(self._store, stands, kind, options, telling.reason)
        with self._lock:
            running = self._running(job, kind)
            if running is not None and running.same(work):
                return running.progress()
            if running is not None:
                self._stop(running)
            piece = Piece(job, kind, options, telling, work)
            self._pieces[piece.id] = piece
            self._waiting.append(piece)
            self._forget()
            self._assign()
            return piece.progress()

    def progress(self, work: str) -> Progress | None:
        """How far a piece of work is; None where there is none of that name."""
        with self._lock:
            piece = self._pieces.get(work)
            return None if piece is None else piece.progress()

    def of_job(self, job: str) -> tuple[Progress, ...]:
        """The work of a job that runs or ended since the shop was opened, the latest first."""
        with self._lock:
            return tuple(p.progress() for p in reversed(self._pieces.values()) if p.job == job)

    def stop(self, work: str, keep: bool = True) -> None:
        """Stop a piece of work; with `keep`, a search gives the best plan it has so far.

        What is past its search is then left to end by itself, as it has its result. All other work stops altogether.
        """
        with self._lock:
            piece = self._pieces.get(work)
            if piece is None or not piece.running:
                return
            if keep and piece.searched:
                for worker in self._workers:
                    if worker.piece is piece:
                        worker.tell(Keep())
                piece.keep()
                return
            self._stop(piece)
            self._assign()

    def warm(self) -> None:
        """Have a process ready for the first piece of work; it takes a second or two to start."""
        with self._lock:
            if not self._workers and not self._closed:
                self._workers.append(Worker(self._heard, self._gone))

    def close(self) -> None:
        """End all work."""
        with self._lock:
            self._closed = True
            workers = tuple(self._workers)
            for piece in self._pieces.values():
                if piece.running:
                    self._stop(piece)
            for worker in workers:
                worker.end()
        for worker in workers:
            worker.wait(FAREWELL)

    @property
    def processes(self) -> tuple[int, ...]:
        """Numbers of the processes there are."""
        with self._lock:
            return tuple(worker.pid for worker in self._workers if worker.pid is not None)

    def _heard_before(self, job: str, kind: WorkKind, telling: Telling) -> Piece | None:
        """A piece that was asked for by the same telling and is under way or done: a second press of a button."""
        for piece in self._pieces.values():
            told = (piece.job, piece.kind, piece.telling.key)
            if told == (job, kind, telling.key) and piece.status not in ("stopped", "failed"):
                return piece
        return None

    def _done_before(
        self, job: str, kind: WorkKind, options: dict[str, Any], telling: Telling, event: int
    ) -> Progress:
        """A piece whose result the record has from before the shop was opened."""
        piece = Piece(job, kind, options, telling, LongWork(kind, None, ""))
        piece.ends("done", event=event)
        with self._lock:
            self._pieces[piece.id] = piece
            return piece.progress()

    def _running(self, job: str, kind: WorkKind) -> Piece | None:
        return next((p for p in self._pieces.values() if p.running and (p.job, p.kind) == (job, kind)), None)

    def _forget(self) -> None:
        ended = [piece for piece in self._pieces.values() if not piece.running]
        for piece in ended[: max(0, len(ended) - REMEMBERED)]:
            del self._pieces[piece.id]

    def _assign(self) -> None:
        """Give what waits to processes, as far as there are any; one is kept ready for the next, no more."""
        free = [worker for worker in self._workers if worker.piece is None]
        while self._waiting and not self._closed and (free or len(self._workers) < AT_ONCE):
            if not free:
                free.append(Worker(self._heard, self._gone))
                self._workers.append(free[0])
            worker, piece = free.pop(0), self._waiting.popleft()
            worker.piece = piece
            piece.begins()
            worker.tell(Do(piece.work))
        for worker in free[1:]:
            self._workers.remove(worker)
            worker.end()

    def _stop(self, piece: Piece) -> None:
        """Stop a piece altogether; a process in the middle of a calculation can only be ended."""
        piece.ends("stopped")
        if piece in self._waiting:
            self._waiting.remove(piece)
        for worker in [worker for worker in self._workers if worker.piece is piece]:
            self._workers.remove(worker)
            worker.end()

    def _heard(self, worker: Worker, message: FromChild) -> None:
        """What a process tells; called by its listening thread."""
        with self._lock:
            piece = worker.piece
            if piece is None or not piece.running:
                return
            if isinstance(message, HowFar):
                piece.moves(message)
                return
            worker.piece = None
            piece.moves(HowFar(WRITING))
            self._assign()
        if isinstance(message, Worked):
            self._write(piece, message)
        elif isinstance(message, Refused):
            self._end(piece, message.faults)
        else:
            self._end(piece, (broken(message.trace, self._data),))

    def _write(self, piece: Piece, worked: Worked) -> None:
        """Write a result into the record; pages need not wait for the disk."""
        try:
            event = write_down(self._store, piece.job, piece.work, worked, piece.telling)
        except AxlewrightError as error:
            self._end(piece, tuple(str(fault) for fault in error.faults))
        except Exception:
            self._end(piece, (broken(traceback.format_exc(), self._data),))
        else:
            self._end(piece, event=event.number)

    def _end(self, piece: Piece, faults: tuple[str, ...] = (), event: int | None = None) -> None:
        with self._lock:
            piece.ends("done" if event is not None else "failed", faults, event)

    def _gone(self, worker: Worker) -> None:
        """A process has ended; called by its listening thread."""
        with self._lock:
            if worker in self._workers:
                self._workers.remove(worker)
            piece, worker.piece = worker.piece, None
            if piece is not None and piece.running:
                piece.ends("failed", (_CUT_SHORT,))
            self._assign()
