"""Long work on plans: looking for them, and taking another of those that were found."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from threadpoolctl import threadpool_limits

from axlewright.job.reading import parse_job
from axlewright.job.stretches import refuse_bare
from axlewright.plan.bench import Trial
from axlewright.plan.fixture import settled
from axlewright.plan.orders import chosen_plan, orders_of, orders_text, read_orders, shop_of
from axlewright.plan.ours import Ours, our_plan
from axlewright.plan.report import PlanReport, TradeOff
from axlewright.plan.search.search import USUAL, Search
from axlewright.record.events import Document
from axlewright.shop.factors import ShopFactors
from axlewright.tasks.learning import shop_factors
from axlewright.tasks.long_asked import ORDERS, LongWork, PlanOptions, Worked
from axlewright.tasks.long_files import documents_of
from axlewright.tasks.long_watch import Watch
from axlewright.tasks.planning import LOOKING, SURE, put_on_bench, report_of, so_far, try_common, write_plan
from axlewright.tasks.texts import JOB_FILE
from axlewright.tasks.viewing import VIEW_FILE, VIEW_TYPE, plan_view


def plan_anew(work: LongWork, cache: Path | None, watch: Watch) -> Worked:
    """Look for plans, and take the recommended one.

    Args:
        work: what is asked for.
        cache: folder of built models, or None to build afresh.
        watch: told how far it is.

    Raises:
        AxlewrightError: as `plan_job`.
    """
    job, shop = parse_job(work.job_text, JOB_FILE), shop_factors()
    refuse_bare(job)
    with threadpool_limits(limits=1, user_api="blas"):
        bench = put_on_bench(job, cache, watch.stage, shop)
        common = try_common(bench, watch.stage)
        ours = our_plan(
            bench,
            common,
            _search(work.options),
            say=lambda tries: watch.searching(tries, LOOKING, lambda: so_far(tries, job.inch)),
        )
        return _worked(ours, common, shop, orders_text(orders_of(ours, shop)), cache, watch)


def choose_plan(work: LongWork, cache: Path | None, watch: Watch) -> Worked:
    """Take another plan of the trade-off; no search is made.

    Raises:
        OptionError: there is no plan of that number.
        RecordError: the plans are of another job.
    """
    job, orders = parse_job(work.job_text, JOB_FILE), read_orders(work.orders, ORDERS)
    shop = shop_of(orders)
    with threadpool_limits(limits=1, user_api="blas"):
        bench = put_on_bench(job, cache, watch.stage, shop)
        common = try_common(bench, watch.stage)
        watch.stage("taking the plan from the trade-off")
        ours = chosen_plan(bench, common, orders, work.options.number)
        return _worked(ours, common, shop, work.orders, cache, watch)


def _search(options: PlanOptions) -> Search:
    return Search(plans=options.plans, seconds=USUAL.seconds if options.seconds is None else options.seconds)


def _worked(
    ours: Ours, common: Trial, shop: ShopFactors | None, orders: str, cache: Path | None, watch: Watch
) -> Worked:
    """The plan as the record keeps it."""
    watch.stage(SURE)
    report = report_of(ours, common, shop, lambda done, of: watch.stage(SURE, done, of))
    watch.stage("following the heat over the skin")
    bench, trial, _ = settled(ours.bench, ours.trial, common)
    kept = (
        Document(ORDERS, "application/json", orders.encode()),
        Document(VIEW_FILE, VIEW_TYPE, plan_view(bench, trial, cache)),
    )
    with TemporaryDirectory() as folder:
        drawn = documents_of(write_plan(report, Path(folder), watch.stage))
    return Worked(_body(report, ours), (*drawn, *kept))


def _body(report: PlanReport, ours: Ours) -> dict[str, Any]:
    return {
        "chosen": ours.trade_off.chosen,
        "recommended": ours.trade_off.recommended,
        "beads": len(report.ours.beads),
        "bench_min": round(report.ours.totals.bench_s / 60, 2),
        "words": _words(ours.trade_off),
    }


def _words(trade: TradeOff) -> str:
    """Why this plan; where another was chosen, why that one is recommended."""
    if trade.recommended in (None, trade.chosen):
        return trade.why
    why = f"{trade.why[0].lower()}{trade.why[1:]}"
    return f"Plan {trade.chosen} was chosen. Plan {trade.recommended} is recommended: {why}"
