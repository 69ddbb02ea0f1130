"""What each command prints where, and with which exit code."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from reference import benches
from said import axlewright, environment, files_below

from axlewright import __version__, tasks
from axlewright.job.demo_jobs import demo_names, demo_text
from axlewright.plan.search.search import Search

STAGES = [
    "meshing the housing",
    "walking common practice",
    "looking for a better order",
    "working out how sure",
]


def test_a_plan_goes_to_standard_output_and_its_progress_to_standard_error(axle, job_file: Path) -> None:
    """The table is printed, the stages are told in order beside it, and nothing is written."""
    before = files_below(job_file.parent)
    said = axle("plan", str(job_file))
    assert said.code == 0
    assert "plain tube" in said.out and "upper, front side" in said.out
    places = [said.err.index(stage) for stage in STAGES]
    assert places == sorted(places)
    assert not any(stage in said.out for stage in STAGES)
    assert files_below(job_file.parent) == before


def test_it_says_how_to_get_the_work_sheet(axle, job_file: Path) -> None:
    """Where nothing was written the last line on standard error tells about --out."""
    said = axle("plan", str(job_file))
    assert "--out FOLDER" in said.err.splitlines()[-1]


def test_json_is_alone_on_standard_output(axle, job_file: Path) -> None:
    """With --json standard output is plan.json and nothing else, and no advice is given on the side."""
    said = axle("plan", str(job_file), "--json")
    assert said.code == 0
    assert json.loads(said.out)["job"]["name"] == "plain tube"
    assert said.out.startswith("{") and said.out.endswith("}\n")
    assert "--out" not in said.err


def test_out_writes_and_says_so(axle, job_file: Path, tmp_path: Path) -> None:
    """Plan, drawings and work sheets are written to a folder made for them; each file is named on standard error."""
    folder = tmp_path / "new" / "out"
    said = axle("plan", str(job_file), "--out", str(folder), "--json")
    assert said.code == 0
    written = files_below(folder)
    assert {"plan.json", "work-sheet-a4.pdf", "work-sheet-us-letter.pdf"} < written
    assert {"weld-map-1.svg", "temperature.png", "cold-shape.svg"} < written
    last = said.err.splitlines()[-1]
    assert last.startswith(f"Wrote {len(written)} files in {folder}: ")
    assert set(last.partition(f"{folder}: ")[2].split(", ")) == written
    assert (folder / "plan.json").read_text(encoding="utf-8") == said.out


def test_every_tack_is_listed_on_request(axle, job_file: Path) -> None:
    """--tacks adds one line for each tack, in order; without it they are only counted."""
    plain, full = axle("plan", str(job_file)), axle("plan", str(job_file), "--tacks")
    count = int(re.search(r"First (\d+) tacks", plain.out)[1])
    assert re.findall(r"^ *T(\d+) ", full.out, re.M) == [str(n + 1) for n in range(count)]
    assert not re.findall(r"^ *T\d+ ", plain.out, re.M)
    assert "--tacks" in plain.out and "--tacks" not in full.out


def test_demo_lists_names(axle) -> None:
    """Standard output has one demo a line, so that a script can read it; the advice stands beside it."""
    said = axle("demo")
    assert said.code == 0
    assert said.out.splitlines() == list(demo_names())
    assert "axlewright demo NAME" in said.err


@pytest.mark.parametrize("name", demo_names())
def test_demo_prints_the_job_file(axle, name: str) -> None:
    """What is printed is the demo's file to the letter."""
    said = axle("demo", name)
    assert (said.code, said.out, said.err) == (0, demo_text(name), "")


def test_version(axle) -> None:
    """The version command names program and version."""
    assert axle("version").out == f"axlewright {__version__}\n"


@pytest.mark.parametrize(
    "arguments",
    [("--help",), ("plan", "--help"), ("replan", "--help"), ("demo", "--help"), ("learn", "job", "--help")],
)
def test_help_is_help(axle, arguments: tuple[str, ...]) -> None:
    """Help goes to standard output with exit code 0 and names the program as people type it."""
    said = axle(*arguments)
    assert said.code == 0
    assert said.out.startswith("Usage: axlewright ")
    assert "\x1b" not in said.out


OPTIONS = {
    "plan": ["--out", "--json", "--tacks", "--why", "--choose", "--seconds", "--shop", "--help"],
    "replan": ["--plan", "--at", "--shop", "--out", "--json", "--help"],
    "straightness": ["--before", "--form", "--out", "--json", "--help"],
    "correct": [
        *(
            "--before",
            "--bare",
            "--way",
            "--cycle",
            "--cracked",
            "--earlier",
            "--shop",
            "--out",
            "--json",
            "--help",
        )
    ],
}


@pytest.mark.parametrize("command", OPTIONS)
def test_help_names_every_option(axle, command: str) -> None:
    """Each option stands there with a sentence, which may run on in the next line."""
    text = axle(command, "--help").out.split("Options:")[1]
    options = [" ".join(option.split()) for option in re.split(r"\n  (?=--)", text)[1:]]
    assert [option.split()[0] for option in options] == OPTIONS[command]
    # What is taken where an option is left out may follow its sentence.
    assert all(re.search(r"\w\.( \[default: .*\])?$", option) for option in options)


def test_another_plan_can_be_chosen(axle, job_file: Path) -> None:
    """--choose takes the plan of that number, whichever is recommended."""
    text = axle("plan", str(job_file), "--json", "--seconds", "1", "--choose", "1").out
    trade = json.loads(text)["trade_off"]
    assert trade["chosen"] == 1
    assert json.loads(text)["totals"]["bench_min"] == pytest.approx(trade["points"][0]["bench_min"], abs=0.02)


def test_stopping_the_search_keeps_the_best_plan(job_file: Path) -> None:
    """Control-C after twenty plans ends the search, not the work: the best so far is taken, and the file says so."""
    told: list[str] = []

    def say(stage: str) -> None:
        told.append(stage)
        if stage.startswith("looking") and sum(line.startswith("looking") for line in told) == 20:
            raise KeyboardInterrupt

    search = Search(plans=100, seconds=600.0)
    report = tasks.plan_job(tasks.read_job(job_file), benches.CACHE[0], say, search)
    assert report.trade_off.stopped and report.trade_off.tried == 20
    assert sum(stage.startswith("looking") for stage in told) == 20
    assert len(report.ours.beads) == 8
    leading = next(p for p in report.trade_off.points if p.number == report.trade_off.chosen)
    assert report.ours.totals.bench_s == pytest.approx(leading.bench_s)
    whole = tasks.plan_job(tasks.read_job(job_file), benches.CACHE[0], search=search)
    assert not whole.trade_off.stopped


def test_a_pipe_gets_plain_utf8(job_file: Path) -> None:
    """Piped output is UTF-8 without control codes or blanks at line ends, even where the system says otherwise."""
    run = axlewright(
        "plan",
        str(job_file),
        cwd=job_file.parent,
        PYTHONIOENCODING="ascii",
        TERM="xterm-256color",
        AXLEWRIGHT_CACHE=str(job_file.parent / "models"),
    )
    assert run.returncode == 0
    for text in (run.stdout.decode("utf-8"), run.stderr.decode("utf-8")):
        assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f]", text.replace("\r\n", "\n"))
        assert not re.search(r"[ \t]$", text, re.M)
    assert "→" in run.stdout.decode("utf-8") and "°C" in run.stdout.decode("utf-8")


def test_two_processes_give_the_same_bytes(job_file: Path) -> None:
    """The plan does not depend on the seed of Python's hashes or on whether the model was built or loaded."""
    texts = []
    for seed in ("1", "2"):
        run = axlewright(
            "plan",
            str(job_file),
            "--json",
            cwd=job_file.parent,
            PYTHONHASHSEED=seed,
            AXLEWRIGHT_CACHE=str(job_file.parent / "models"),
        )
        assert run.returncode == 0
        plan = json.loads(run.stdout)
        texts.append((plan.pop("model")["from_cache"], json.dumps(plan)))
    assert [kept for kept, _ in texts] == [False, True]
    assert texts[0][1] == texts[1][1]


@pytest.mark.parametrize(
    "arguments", [("demo", "rescue-truck"), ("plan", "job.toml", "--json"), ("plan", "job.toml")]
)
def test_a_reader_that_has_gone_is_no_error_to_talk_about(job_file: Path, arguments: tuple[str, ...]) -> None:
    """When the reader of a pipe has gone (a pager closed early) there is no traceback and no complaint."""
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as gone:
        run = subprocess.run(
            [sys.executable, "-m", "axlewright", *arguments],
            cwd=job_file.parent,
            env=environment(AXLEWRIGHT_CACHE=str(benches.CACHE[0])),
            stdout=gone,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert run.returncode != 0
    assert b"Traceback" not in run.stderr and b"rror" not in run.stderr
