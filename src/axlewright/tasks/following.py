"""Following a job at the bench: the model stays in memory, and every tap is answered at once.

It is done in a process of its own (`web.companion`), which fetches this module; the server does not.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from threadpoolctl import ThreadpoolController

from axlewright.errors import Fault, LogError
from axlewright.job.reading import parse_job
from axlewright.job.stretches import refuse_bare
from axlewright.plan.orders import read_orders, shop_of
from axlewright.plan.replan.ahead import Remaining
from axlewright.plan.replan.answer import Moments, moments
from axlewright.plan.replan.begun import begun_with
from axlewright.plan.replan.describing import replan_report
from axlewright.plan.replan.reading import BeadLog, parse_log
from axlewright.plan.replan.remaining import best_from_here
from axlewright.plan.replan.standing import Standing
from axlewright.shop.factors import ShopFactors
from axlewright.tasks.following_asked import ORDERS, PLAN_FILE, Asked, Followed, Following
from axlewright.tasks.following_clock import BenchClock, as_log_time, as_moment
from axlewright.tasks.following_shape import PlanBand, plan_band, shape_told
from axlewright.tasks.following_stage import Stage, stage_of, tacks_left
from axlewright.tasks.following_stop import stop_words
from axlewright.tasks.following_words import Ahead, beads_told, changed, drift
from axlewright.tasks.learning import shop_factors
from axlewright.tasks.places import cache_folder
from axlewright.tasks.planning import put_on_bench, try_common
from axlewright.tasks.texts import JOB_FILE
from axlewright.units import format_temperature

SOURCE = "entry"
"""Stands for the log in messages, until the number of the event is put there."""

_LINE = re.compile(rf"\b{SOURCE} line (\d+)")

COOLING = (15, 600)
"""The cooling of the next spot is told so often, for so long [s]; pages show it between answers."""


@dataclass(frozen=True)
class _Read:
    """A log followed up to a moment."""

    log: BeadLog
    moments: Moments
    standing: Standing
    remaining: Remaining


def follower_of(what: Followed, say: Callable[[str], None] = lambda stage: None) -> Follower:
    """What follows a job, with what the shop had learned when the plan was made and the user's own models.

    Raises:
        AxlewrightError: as `Follower`.
    """
    shop = shop_of(read_orders(what.orders, ORDERS)) if what.orders else shop_factors()
    return Follower(what.job_text, what.plan_text, shop, cache_folder(), say)


class Follower:
    """Follows one job. The model is loaded once; after that an answer takes a fifth of a second at most.

    Args:
        job_text: the job file.
        plan_text: plan.json of the plan on the bench.
        shop: what the shop had learned; None for nothing.
        cache: folder of built models, or None to build afresh.
        say: told the stage of loading.

    Raises:
        GeometryError: the dimensions do not make a body, or nothing is welded on.
        JobFileError: the job file cannot be read, or a bead can be reached at none of the turns it allows.
        LogError: the plan is not of this job.
    """

    def __init__(
        self,
        job_text: str,
        plan_text: str,
        shop: ShopFactors | None = None,
        cache: Path | None = None,
        say: Callable[[str], None] = lambda stage: None,
    ) -> None:
        job = parse_job(job_text, JOB_FILE)
        refuse_bare(job)
        self._threads = ThreadpoolController()
        with self._threads.limit(limits=1, user_api="blas"):
            bench = put_on_bench(job, cache, say, shop)
            common = try_common(bench, say)
            say("taking up the plan")
            self.intent = begun_with(bench, plan_text, PLAN_FILE).intent(common, shop).ready()
            self.band: PlanBand | None = plan_band(plan_text)
            self._unbegun = self._followed(BeadLog((), (), True), None)

    def answer(self, asked: Asked) -> Following:
        """Where the bench stands, and what comes next. Entries that cannot be used are told in `doubts`.

        Args:
            asked: what happened so far, and the moment.
        """
        with self._threads.limit(limits=1, user_api="blas"):
            return self._told(asked, self._read(asked))

    def _read(self, asked: Asked) -> _Read:
        """The log read and followed; one of which nothing can be used is one that tells nothing."""
        try:
            log = parse_log(asked.log, SOURCE, self.intent.names, self._inch)
        except LogError as error:
            log = BeadLog((), error.faults, True)
        if not log.events:
            return replace(self._unbegun, log=log)
        return self._followed(log, as_log_time(asked.at + asked.ahead))

    def _followed(self, log: BeadLog, at: str | None) -> _Read:
        told = moments(self.intent, log, at)
        standing = self.intent.standing(told.events, told.now)
        return _Read(log, told, standing, best_from_here(self.intent, standing))

    def _told(self, asked: Asked, read: _Read) -> Following:
        clock = BenchClock.of(read.moments, read.standing, asked.at, asked.ahead)
        stage = stage_of(self.intent, read.standing, read.moments.events, clock.now)
        # Until the first bead the plan's own first beads are next; what is warm from tacking cools while it goes on.
        ahead = self._unbegun if stage.state in ("not begun", "tacking") else read
        later = tacks_left(self.intent, stage)
        report = replan_report(self.intent, ahead.standing, ahead.remaining, ())
        lays = read.standing.turn if stage.state not in ("not begun", "tacking") else 0.0
        waits = clock.now if ahead is read else ahead.standing.now
        beads = beads_told(self.intent, report.way, clock, Ahead(waits, later, lays))
        stage = stage.waits(report.way, waits, ahead is read)
        here = (
            replan_report(self.intent, read.standing, read.remaining, read.log.faults)
            if ahead is not read
            else report
        )
        return {
            "number": asked.number,
            "at": as_moment(asked.at),
            "plan": asked.plan,
            **stage.told(clock, lambda entry: _number(entry, asked.entries)),
            "skipped": list(here.skipped),
            "tacks_out": list(here.tacks_out),
            "turn_deg": lays,
            "next": beads[:10],
            "left": len(report.way.beads),
            "end_at": clock.at(report.way.end_s, waits, later),
            "kept": report.way.kept,
            "keeps_limits": report.way.keeps_limits,
            "changed": changed(asked.before, beads[:10]),
            "drift": drift(here, read.standing, clock, self._inch),
            **self._warm(read.standing, ahead, stage),
            "shape": shape_told(report.way.shape or here.shape_now, self.band, self._inch),
            "stop": stop_words(self.intent, read.standing, read.moments.events),
            "doubts": self._doubts(asked, read, stage),
        }

    def _warm(self, standing: Standing, ahead: _Read, stage: Stage) -> Following:
        """How warm the steel is: where the next bead will start, now and later, and the hottest place on a seam."""
        air, modes, state = standing.ambient, standing.modes, standing.estimate.state
        if stage.state == "not begun":
            state = 0.0 * state
        hottest = air + float((modes.spot @ state).max())
        told: Following = {"hottest_c": round(hottest, 1), "ambient_c": round(air, 1)}
        if not ahead.remaining.steps:
            return {**told, "spot_now_c": None, "spot_now": "", "cooling": []}
        step = ahead.remaining.steps[0]
        piece = self.intent.bench.model.pieces[step.bead]
        row = modes.spot[piece[-1] if step.reverse else piece[0]]
        often, long = COOLING
        spot = air + float(row @ state)
        cooling = [
            [after, round(air + float(row @ (state * np.exp(-modes.rate * after))), 1)]
            for after in range(0, long + 1, often)
        ]
        shown = format_temperature(spot, self._inch)
        return {**told, "spot_now_c": round(spot, 1), "spot_now": shown, "cooling": cooling}

    def _doubts(self, asked: Asked, read: _Read, stage: Stage) -> list[str]:
        """What is asked about: nothing that does not fit is swallowed."""
        faults = [*read.log.faults, *read.standing.faults]
        doubts = [*asked.doubts, *(_by_event(fault, asked.entries) for fault in faults)]
        if stage.unfinished is not None:
            doubts.append(f"What happened to bead {stage.unfinished}? It was started, and no stop was told.")
        return list(dict.fromkeys(doubts))

    @property
    def _inch(self) -> bool:
        return self.intent.bench.job.inch


def _by_event(fault: Fault, entries: tuple[int, ...]) -> str:
    """A fault with the number of the event it is about, which pages know, instead of the line of the log."""

    def named(found: re.Match[str]) -> str:
        number = _number(found[0], entries)
        return found[0] if number is None else f"event {number}"

    return _LINE.sub(named, str(fault))


def _number(entry: str, entries: tuple[int, ...]) -> int | None:
    """Number of the event that a line of the log tells; the first line names the columns."""
    found = _LINE.fullmatch(entry)
    line = int(found[1]) - 2 if found else -1
    return entries[line] if 0 <= line < len(entries) else None
