"""The commands in the README work, and the scripts at the top are there."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
from reference import benches
from said import ROOT, axlewright

from axlewright.job.demo_jobs import demo_readings
from axlewright.shop.shop_file import read_shop

README = (ROOT / "README.md").read_text(encoding="utf-8")
EXAMPLE = (ROOT / "docs" / "bead-log.md").read_text(encoding="utf-8").split("```csv\n")[1].split("```")[0]
SCRIPTS = [
    "run",
    "test",
    *sorted(f"tools/{path.name}" for path in (ROOT / "tools").iterdir() if path.is_file()),
]

OPTIONS = {
    "demo": set(),
    "plan": {"--out", "--json", "--tacks", "--why", "--choose", "--seconds"},
    "replan": {"--plan", "--at", "--out", "--json"},
    "straightness": {"--before", "--form", "--out", "--json"},
    "correct": {"--way", "--cycle", "--out", "--json"},
}

ONLY_BASH = (
    r"\[\[",
    r"\bfunction\s",
    r"<<<",
    r"\bsource\s",
    r"&>",
    r"\blocal\s",
    r"\$'",
    r"<\(",
    r"\+=",
    r" == ",
)
"""What dash would refuse, or read differently."""


def commands() -> list[list[str]]:
    """Words of every `./run ...` or `axlewright ...` line in the README's blocks, comments left out."""
    blocks = re.findall(r"^```\w*\n(.*?)^```$", README, re.M | re.S)
    lines = [shlex.split(line, comments=True) for block in blocks for line in block.splitlines()]
    return [words for words in lines if words and words[0] in ("./run", "axlewright") and len(words) > 1]


def follow(words: list[str], folder: Path) -> bytes:
    """Run one command of the README in a folder, its output sent where `>` says; what else it printed."""
    target = words[words.index(">") + 1] if ">" in words else None
    arguments = words[1 : words.index(">")] if target else words[1:]
    kept = {"AXLEWRIGHT_CACHE": str(benches.CACHE[0]), "AXLEWRIGHT_SHOP": str(folder / "shop.toml")}
    run = axlewright(*arguments, cwd=folder, **kept)
    assert run.returncode == 0, run.stderr.decode("utf-8")
    if target:
        (folder / target).write_bytes(run.stdout)
    return run.stdout


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which every command of "Your own axle" has been run, in order."""
    folder = tmp_path_factory.mktemp("readme")
    for words in commands():
        # The shop stays open until Ctrl+C; tests/web/test_serve.py opens and closes it.
        if words[0] != "./run" or words[1] == "serve":
            continue
        if words[1] == "replan":
            # What was done at the bench is the example of the bead log's own page, made for the same demo.
            (folder / words[3]).write_text(EXAMPLE, encoding="utf-8")
        for which in {f"{name}.csv" for name in ("before", "after")} & set(words):
            # The truss-only demo is the same housing as the one the readings were invented for.
            text = demo_readings("rescue-truck", which.removesuffix(".csv"))
            (folder / which).write_text(text, encoding="utf-8")
        follow(words, folder)
    return folder


def test_the_readme_has_commands() -> None:
    """At least a demo, a plan on the screen, one with --out and one with --json are shown."""
    told = [" ".join(words) for words in commands()]
    assert any(re.search(r"demo \S+ >", line) for line in told)
    assert any(re.fullmatch(r"\./run plan \S+\.toml", line) for line in told)
    assert any("--out" in line for line in told) and any("--json >" in line for line in told)
    assert any("replan" in line and "--plan" in line for line in told)


def test_following_the_readme_gives_a_job_file_and_a_plan(followed: Path) -> None:
    """The job file is the demo's, plan.json is JSON with beads, and the folder has a work sheet."""
    job, plan = followed / "my-axle.toml", followed / "plan.json"
    assert "[housing]" in job.read_text(encoding="utf-8")
    written = json.loads(plan.read_text(encoding="utf-8"))
    assert len(written["beads"]) > 8
    inside = json.loads((followed / "my-axle" / "plan.json").read_text(encoding="utf-8"))
    # A search that runs out of time on a busy machine may find another order; the beads are the same.
    assert {bead["tag"] for bead in inside["beads"]} == {bead["tag"] for bead in written["beads"]}
    assert (followed / "my-axle" / "work-sheet-a4.pdf").read_bytes().startswith(b"%PDF")


def test_following_the_readme_checks_corrects_and_learns(followed: Path) -> None:
    """The form, the filled sheet and the decision are there, and the shop file holds the housing and no more."""
    written = {path.name for path in (followed / "my-axle").iterdir()}
    assert {"readings.csv", "measuring-sheet-a4.pdf", "straightness.svg", "correction.json"} <= written
    # The job of this demo has no limits of its own, and is well inside class E of ISO 13920.
    decided = json.loads((followed / "my-axle" / "correction.json").read_text(encoding="utf-8"))
    assert decided["decision"] == "leave it"
    assert len(read_shop(followed / "shop.toml").names) == 1


def test_commands_on_windows_are_the_same_ones() -> None:
    """What `axlewright` is told under Windows are commands that exist, with options that exist."""
    windows = [words for words in commands() if words[0] == "axlewright"]
    assert windows
    for words in windows:
        assert words[1] in ("plan", "replan", "demo")
        assert {word for word in words if word.startswith("--")} <= OPTIONS[words[1]]


@pytest.mark.parametrize("link", sorted(set(re.findall(r"\]\(([^)#:]+)\)", README))))
def test_links_lead_somewhere(link: str) -> None:
    """Every page the README links to is there."""
    assert (ROOT / link).exists()


@pytest.mark.skipif(os.name == "nt", reason="scripts for the POSIX shell")
@pytest.mark.parametrize("script", SCRIPTS)
def test_scripts_are_executable_posix_shell(script: str) -> None:
    """Each begins with #!/bin/sh, may be run, parses, and uses nothing that only bash knows."""
    path = ROOT / script
    text = path.read_text(encoding="utf-8")
    assert text.startswith("#!/bin/sh\n")
    assert os.access(path, os.X_OK)
    # dash, where there is one, refuses more than a bash that is called sh.
    shell = shutil.which("dash") or "sh"
    parsed = subprocess.run([shell, "-n", str(path)], capture_output=True, check=False)
    assert parsed.returncode == 0, parsed.stderr.decode("utf-8")
    code = re.sub(r"(?m)^\s*#.*$|\"[^\"\n]*\"", "", text)
    assert [word for word in ONLY_BASH if re.search(word, code)] == []


@pytest.mark.skipif(os.name == "nt", reason="scripts for the POSIX shell")
def test_run_passes_its_words_on(tmp_path: Path) -> None:
    """`./run plan "my job.toml" --json` hands over the same words, spaces kept, and exits as the program does."""
    place = tmp_path / "with space"
    (place / ".venv" / "bin").mkdir(parents=True)
    shutil.copy(ROOT / "run", place / "run")
    for name in ("requirements.lock", "pyproject.toml"):
        (place / name).write_text("", encoding="utf-8")
    python = place / ".venv" / "bin" / "python"
    python.write_text('#!/bin/sh\nprintf "<%s>" "$@"\nexit 2\n', encoding="utf-8")
    python.chmod(0o755)
    stamp = place / ".venv" / "axlewright-installed"
    stamp.write_text("", encoding="utf-8")
    os.utime(stamp, (2e9, 2e9))
    run = subprocess.run(
        [str(place / "run"), "plan", "my job.toml", "--json"], cwd=tmp_path, capture_output=True, check=False
    )
    assert run.stdout == b"<-m><axlewright><plan><my job.toml><--json>"
    assert run.returncode == 2
