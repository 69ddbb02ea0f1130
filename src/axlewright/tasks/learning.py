"""What the shop's own results teach, and the file they are kept in."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from threadpoolctl import threadpool_limits

from axlewright.job.schema import Job
from axlewright.sheets.setting import PAPERS
from axlewright.sheets.trial_sheet import write_trial_sheet
from axlewright.shop.evidence import Evidence
from axlewright.shop.factors import ShopFactors
from axlewright.shop.shop_file import Shop, read_shop, reset_shop, shop_path, write_shop
from axlewright.shop.telling import doubts, factor_table, stands_behind
from axlewright.straightness.fit.fitting import fit_shape
from axlewright.straightness.learn.from_job import job_evidence
from axlewright.straightness.learn.trial_design import plan_trial
from axlewright.straightness.learn.trial_evidence import trial_evidence
from axlewright.straightness.learn.trial_plan import TrialPlan
from axlewright.straightness.learn.trial_reading import read_trial, scrap_tube
from axlewright.straightness.learn.trial_template import trial_template
from axlewright.straightness.readings.file import read_readings
from axlewright.tasks.places import written

__all__ = [
    "Housing",
    "Shop",
    "forget",
    "learn_job",
    "learn_trial",
    "merge_shop",
    "plan_scrap_trial",
    "read_shop",
    "reset_shop",
    "shop_factors",
    "shop_path",
    "shop_text",
    "write_trial",
]

Say = Callable[[str], None]


def shop_factors(path: Path | None = None) -> ShopFactors:
    """What is known of the shop: from its file, or without one from formulas alone.

    Raises:
        ShopFileError: there is a file, but it cannot be read.
    """
    return read_shop(path or shop_path()).factors


@dataclass(frozen=True)
class Housing:
    """A housing measured before and after welding.

    Args:
        before: readings before the first arc.
        after: readings after the last one, cold.
        plan: plan.json of the plan it was welded by.
        log: the bead log, if one was kept.
        name: what the shop calls the result; left out, the job's reference or name.
        date: when it was measured, as 2025-03-01; left out, today.
    """

    before: Path
    after: Path
    plan: Path
    log: Path | None = None
    name: str = ""
    date: str = ""


def learn_job(
    job: Job, housing: Housing, path: Path, cache: Path | None = None, say: Say = lambda stage: None
) -> Shop:
    """Add a housing measured before and after to the shop's results.

    Args:
        job: the job.
        housing: its files.
        path: the shop file.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.

    Returns:
        The shop with the new result, as written.

    Raises:
        ReadingsError: readings cannot be read.
        LogError: the plan is of another job, or nothing of the log can be used.
        ShopFileError: the readings tell nothing, the name stands already, or the file cannot be read or written.
    """
    shop = read_shop(path)
    before, after = (fit_shape(job, read_readings(one, job)).axis for one in (housing.before, housing.after))
    with threadpool_limits(limits=1, user_api="blas"):
        result = job_evidence(
            job, before, after, housing.plan, housing.log, cache, say, name=housing.name, date=housing.date
        )
    return _with(shop, result, path)


def learn_trial(trial: Path, path: Path, name: str = "") -> Shop:
    """Add a trial on scrap tube to the shop's results.

    Args:
        trial: the filled trial file.
        path: the shop file.
        name: what to call the result; left out, as the trial file says.

    Raises:
        ShopFileError: the trial or the shop file cannot be read, or the name stands already.
    """
    shop = read_shop(path)
    with threadpool_limits(limits=1, user_api="blas"):
        result = trial_evidence(read_trial(trial), shop.factors)
    return _with(shop, replace(result, name=name or result.name), path)


def _with(shop: Shop, result: Evidence, path: Path) -> Shop:
    more = shop.with_result(result)
    write_shop(more, path)
    return more


def forget(name: str, path: Path) -> Shop:
    """Take a result out again; what was known without it comes back exactly.

    Raises:
        ShopFileError: there is none of that name, or the file cannot be read or written.
    """
    less = read_shop(path).without_result(name)
    write_shop(less, path)
    return less


def merge_shop(other: Path, path: Path) -> Shop:
    """Add all results of another shop file; the same result twice counts once.

    Raises:
        ShopFileError: a file cannot be read or written, or a name stands for different results.
    """
    more = read_shop(path).with_all(read_shop(other).evidence)
    write_shop(more, path)
    return more


def shop_text(shop: Shop) -> str:
    """What a shop's results teach, as JSON."""
    learned = shop.learned
    content: dict[str, Any] = {
        "stands_on": stands_behind(learned.factors),
        "factors": [asdict(line) for line in factor_table(learned.factors)],
        "results": [
            {
                "name": one.evidence.name,
                "date": one.evidence.date,
                "kind": one.evidence.kind,
                "weight": one.weight,
            }
            for one in learned.weighed
        ],
        "doubts": list(doubts(learned)),
    }
    return json.dumps(content, indent=2, ensure_ascii=False) + "\n"


def plan_scrap_trial(
    job: Job, tube: dict[str, object], straightedge: bool = False, shop: Shop | None = None
) -> TrialPlan:
    """Plan a trial on a scrap tube with the welder of a job.

    Args:
        job: the job whose welder is to be tried; its units are those of the tube.
        tube: keys of the table [tube] of a trial file, as the shop types them.
        straightedge: whether the bend is read with straightedge and feelers instead of a dial.
        shop: what is known already.

    Raises:
        ShopFileError: the tube is out of bounds, too short or too thick.
    """
    with threadpool_limits(limits=1, user_api="blas"):
        return plan_trial(
            scrap_tube(tube, job.inch),
            job.welder,
            "straightedge" if straightedge else "dial",
            job.inch,
            shop=None if shop is None else shop.factors,
        )


def write_trial(plan: TrialPlan, inch: bool, folder: Path) -> tuple[Path, ...]:
    """Write the trial's sheet on both papers, and the file to type its results into.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    done = [written(folder, "trial.toml", trial_template(plan, inch))]
    for paper in PAPERS:
        done.append(write_trial_sheet(plan, folder / f"trial-sheet-{paper}.pdf", paper))
    return tuple(done)
