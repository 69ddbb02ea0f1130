"""What a plan looks like at a terminal of eighty columns."""

from __future__ import annotations

import dataclasses
import itertools
import re

import pytest
from plan.planned import common_report
from rich.cells import cell_len
from sheets.sample_report import sample_report
from sheets.sample_trade import trade_off

from axlewright.cli.show import show_plan
from axlewright.plan.report import PlanReport
from axlewright.sheets.trade_points import NONE_HOLDS

Show = pytest.CaptureFixture[str]
FIGURES = ("bench time", "camber, left", "camber, right", "toe, left", "toe, right", "bow, up and down")


@pytest.fixture(autouse=True)
def eighty_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    """A window of eighty columns, as most begin with."""
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("FORCE_COLOR", raising=False)


def shown(report: PlanReport, capsys: Show, every_tack: bool = False, every_reason: bool = False) -> str:
    """The screen."""
    show_plan(report, every_tack, every_reason)
    return capsys.readouterr().out


def bead_lines(screen: str) -> list[str]:
    """The lines between the rule of the bead table and the blank line after it, turns of the housing left out."""
    lines = screen.split("from → to")[1].split("\n\n")[0].splitlines()[2:]
    return [line for line in lines if "turn the housing:" not in line]


REPORTS = {
    "rescue-truck": lambda: common_report("rescue-truck"),
    "cast-centre": lambda: common_report("cast-centre"),
    "invented in inches": lambda: sample_report(full=False, inch=True),
}


@pytest.mark.parametrize("name", REPORTS)
def test_every_bead_is_one_line(name: str, capsys: Show) -> None:
    """At eighty columns each bead of the demos takes one line and no line is longer."""
    report = REPORTS[name]()
    screen = shown(report, capsys, every_tack=True)
    lines = bead_lines(screen)
    assert [int(line.split()[0]) for line in lines] == [bead.number for bead in report.ours.beads]
    assert max(cell_len(line) for line in screen.splitlines()) <= 80
    tacks = re.findall(r"^ *T(\d+)  \S", screen, re.M)
    assert tacks == [str(tack.number) for tack in report.ours.tacks]


def test_a_bead_tells_where_how_long_and_how_hot(capsys: Show) -> None:
    """A line has number, attachment and seam, marks, hand of travel, wait and spot temperature."""
    report = sample_report()
    bead = report.ours.beads[9]
    line = bead_lines(shown(report, capsys))[9]
    assert bead.wait_s == 150.0
    marks = (
        f"{round(1e3 * bead.from_x)} → {round(1e3 * bead.to_x)} mm, {bead.direction.removeprefix('to the ')}"
    )
    parts = [
        str(bead.number),
        f"{bead.attachment}, {bead.seam}",
        marks,
        "2 min 30 s",
        f"{bead.spot_c:.0f} °C",
    ]
    assert re.split(r" {2,}", line.strip()) == parts


def test_guard_beads_are_told_by_the_clock(capsys: Show) -> None:
    """On a guard the marks are times of the clock, with the way round."""
    screen = shown(common_report("rescue-truck"), capsys)
    guard = [line for line in bead_lines(screen) if "front guard" in line]
    assert guard
    for line in guard:
        assert re.search(r"front guard, rim +\d{1,2}:\d\d → \d{1,2}:\d\d, (anti)?clockwise ", line)
    assert "facing it from outside" in screen


def test_marks_on_seams_across_the_axle_count_along_the_seam(capsys: Show) -> None:
    """Where a tape on the flange cannot tell the ends of a bead apart its two marks still differ."""
    report = common_report("rescue-truck")
    screen = shown(report, capsys)
    for line in bead_lines(screen):
        first, last = re.search(r"([\d:]+) → ([\d:]+)", line).groups()
        assert first != last
        assert ("seam " in line.split(",", 2)[1]) or "main truss" in line or "guard" in line or "→" in line
    spacer = next(line for line in bead_lines(screen) if "left spacer" in line)
    assert re.search(r" seam \d+ → \d+ mm, ", spacer)
    assert "left spacer, all-round seam: starts 62 mm from the flange" in screen


def test_seams_along_the_axle_need_no_such_note(capsys: Show) -> None:
    """On the truss alone nothing is said of other rulers."""
    screen = shown(sample_report(full=False), capsys)
    assert "along that seam" not in screen and "facing it" not in screen


def test_figures_stand_in_columns(capsys: Show) -> None:
    """Each figure of ours has its band beside it and common practice to the right, aligned."""
    screen = shown(common_report("rescue-truck"), capsys)
    rows = {name: next(line for line in screen.splitlines() if line.startswith(name)) for name in FIGURES}
    number, band = r"[+−]?\d+\.\d\d(?:°| mm)", r"[+−]?\d+\.\d\d(?:°)? to [+−]?\d+\.\d\d(?:°| mm)"
    for name in FIGURES[1:]:
        assert re.fullmatch(rf"{name} +{number} +{band} +{number} +{band}", rows[name])
    assert len({len(rows[name]) for name in FIGURES[1:]}) == 1
    header = next(line for line in screen.splitlines() if "our plan" in line and "10-90 %" in line)
    assert header.count("10-90 %") == 2
    assert re.search(r"\n +common\n", screen)


def test_signs_are_explained(capsys: Show) -> None:
    """What minus and plus mean for camber, toe and bow stands under the figures."""
    screen = " ".join(shown(sample_report(), capsys).split())
    assert "Camber: minus leans the top in. Toe: plus is toe-in." in screen
    assert "minus is the middle down, or back." in screen


def test_an_overload_is_said_in_the_figures(capsys: Show) -> None:
    """A tack load above its strength is marked as overloaded, one below is not."""
    report = sample_report()
    assert "overloaded" not in shown(report, capsys)
    totals = dataclasses.replace(report.ours.totals, tack_utilisation=1.47)
    heavy = dataclasses.replace(report, ours=dataclasses.replace(report.ours, totals=totals))
    assert re.search(r"^tack load, .* 147 % .*\n(.*\n)? +overloaded *$", shown(heavy, capsys), re.M)


def test_cautions_hang(capsys: Show) -> None:
    """Every caution begins with a dash; its further lines are indented to its words; none is cut."""
    report = sample_report()
    screen = shown(report, capsys)
    block = screen.split("Before the arc\n")[1].split("\n\n")[0].splitlines()
    assert all(line.startswith(("  - ", "    ")) and line[4] != " " for line in block)
    assert sum(line.startswith("  - ") for line in block) == len(report.cautions)
    told = " ".join(" ".join(block).split())
    assert told == " ".join(f"- {caution}" for caution in report.cautions)
    left_out = screen.split("leaves out\n")[1]
    assert left_out.count("  - ") == len(report.left_out)


def renamed(report: PlanReport, name: str) -> PlanReport:
    """The report with the attachment called Truss called something else."""

    def other(piece):
        return dataclasses.replace(piece, attachment=name) if piece.attachment == "Truss" else piece

    ours = report.ours
    ours = dataclasses.replace(ours, beads=tuple(map(other, ours.beads)), tacks=tuple(map(other, ours.tacks)))
    return dataclasses.replace(report, job_name=name, seams=tuple(map(other, report.seams)), ours=ours)


@pytest.mark.parametrize(
    "name", ["a very long name of a truss " * 4, "x" * 120, "軸受け" * 30, "[bold]truss[/bold] :axe:"]
)
def test_long_and_odd_names_fold(name: str, capsys: Show) -> None:
    """A name too long for its column breaks into lines inside it; nothing is cut off, marks and heat stay whole."""
    report = renamed(sample_report(full=False), name.strip())
    screen = shown(report, capsys)
    lines = bead_lines(screen)
    assert max(cell_len(line) for line in lines) <= 80
    numbered = [line for line in lines if re.match(r" *\d+  \S", line) and "°C" in line]
    assert len(numbered) == len(report.ours.beads)
    letters = "".join(screen.split())
    assert letters.count("".join(name.split())) >= 1
    first = "".join(
        re.sub(r" {2,}.*→.*", "", re.sub(r"^ *\d+  ", "", line)).strip() + " " for line in lines[:12]
    )
    assert "".join(name.split())[:60] in "".join(first.split())


def test_names_cannot_steer_the_terminal(capsys: Show) -> None:
    """Control codes and marks that turn the reading direction, smuggled into a name, are not printed."""
    screen = shown(renamed(sample_report(full=False), "a\x1b[31mred\x07\u202etruss"), capsys)
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f\u202e]", screen)


def marks_and_heat(screen: str) -> list[str]:
    """Marks, hand of travel and temperature of every bead."""
    return re.findall(r"(?:seam )?[\d:]+ → [\d:]+(?: mm)?, \w+|\d+ °C", "\n".join(bead_lines(screen)))


@pytest.mark.parametrize("columns", ["20", "60", "200"])
def test_other_widths(columns: str, capsys: Show, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a narrow window nothing is cut, in a wide one cautions take fewer lines."""
    report = common_report("rescue-truck")
    usual = shown(report, capsys)
    monkeypatch.setenv("COLUMNS", columns)
    screen = shown(report, capsys)
    assert len(marks_and_heat(usual)) == 2 * len(report.ours.beads)
    assert marks_and_heat(screen) == marks_and_heat(usual)
    assert (max(len(line) for line in screen.splitlines()) > 100) == (columns == "200")


@pytest.mark.parametrize("inch", [True, False])
def test_units_are_the_shops(inch: bool, capsys: Show) -> None:
    """Marks, temperatures and bow are in the job's own units."""
    screen = shown(sample_report(inch=inch), capsys)
    assert ("°F" in screen, " in, " in screen) == (inch, inch)
    assert ("°C" in screen, " mm, " in screen) == (not inch, not inch)


def test_a_turn_of_the_housing_stands_before_its_bead(capsys: Show) -> None:
    """Whenever the housing lies differently a line of its own says how, and only then."""
    report = sample_report()
    lines = shown(report, capsys).split("from → to")[1].split("\n\n")[0].splitlines()[2:]
    turned = {
        int(after.split()[0]): re.split(r" {2,}", line.strip())
        for line, after in itertools.pairwise(lines)
        if "turn the housing:" in line
    }
    starts = [
        (bead.number, bead.turn_deg)
        for before, bead in itertools.pairwise(report.ours.beads)
        if bead.turn_deg != before.turn_deg
    ]
    assert [turn for _number, turn in starts] == [270.0, 0.0]
    words = ("front side up", "rear side up", "as on the vehicle")
    assert turned == {
        number: ["turn the housing:", lies]
        for number, lies in zip((1, *(number for number, _turn in starts)), words, strict=True)
    }


def test_a_housing_that_is_not_turned_needs_no_such_line(capsys: Show) -> None:
    """A plan without turns says nothing of turning, neither among the beads nor in the figures."""
    report = sample_report(full=False)
    flat = tuple(dataclasses.replace(bead, turn_deg=0.0) for bead in report.ours.beads)
    totals = dataclasses.replace(report.ours.totals, turns=0, turn_s=0.0)
    ours = dataclasses.replace(report.ours, beads=flat, totals=totals)
    assert "turn the housing" not in shown(dataclasses.replace(report, ours=ours), capsys)
    assert "of which turning" not in " ".join(_names(shown(dataclasses.replace(report, ours=ours), capsys)))
    assert re.search(r"^turns of .* 3 .*none$", shown(report, capsys), re.M)


def _names(screen: str) -> list[str]:
    """Beginnings of all lines."""
    return [line.strip()[:20] for line in screen.splitlines()]


def test_a_wide_window_shows_position_and_reason(capsys: Show, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there is room each bead has its name, its welding position and its reason in its line."""
    monkeypatch.setenv("COLUMNS", "180")
    report = sample_report()
    screen = shown(report, capsys)
    for line, bead in zip(bead_lines(screen), report.ours.beads, strict=True):
        assert re.match(rf" *{bead.number}  {bead.tag}  +{bead.attachment}, ", line)
        assert re.search(rf", [\w ]+  +{bead.position} .*{re.escape(bead.why)}$", line)
    assert "--why" not in screen


def test_the_name_is_the_first_to_get_room(capsys: Show, monkeypatch: pytest.MonkeyPatch) -> None:
    """A hundred columns have room for names and no more; eighty have it where the seams' own names are short."""
    report = sample_report()
    monkeypatch.setenv("COLUMNS", "100")
    screen = shown(report, capsys)
    named = [re.match(r" *\d+  ([A-Z]\d+) +\S", line)[1] for line in bead_lines(screen)]
    assert named == [bead.tag for bead in report.ours.beads]
    assert "with --why: welding positions (ISO 6947) and why" in " ".join(screen.split())
    monkeypatch.setenv("COLUMNS", "80")
    short = renamed(report, "Tr")
    beads = tuple(bead for bead in short.ours.beads if bead.attachment == "Tr")
    screen = shown(dataclasses.replace(short, ours=dataclasses.replace(short.ours, beads=beads)), capsys)
    assert re.match(r" 1  [A-Z]\d+ +Tr, front seam  ", bead_lines(screen)[0])
    assert max(cell_len(line) for line in screen.splitlines()) <= 80


def test_a_narrow_window_keeps_beads_whole_and_lists_reasons_on_request(capsys: Show) -> None:
    """At eighty columns the reasons are left to --why, which lists number, name, position and reason of each bead."""
    report = sample_report()
    plain, full = shown(report, capsys), shown(report, capsys, every_reason=True)
    left_out = "names for the bead log, welding positions (ISO 6947) and why each bead is next."
    assert f"with --why: {left_out}" in " ".join(plain.split())
    assert report.ours.beads[0].why not in plain and "--why" not in full
    listed = re.findall(r"^ *(\d+)  ([A-Z]\d+) +(P[A-H]) +(\D.*?)$", full, re.M)
    assert listed == [(str(b.number), b.tag, b.position, b.why) for b in report.ours.beads]
    assert max(cell_len(line) for line in full.splitlines()) <= 80


def test_longer_tacks_are_named(capsys: Show) -> None:
    """Tacks longer than usual are named with their length; --tacks has the length of each."""
    report = sample_report(inch=True)
    screen = shown(report, capsys, every_tack=True)
    assert "Make these tacks longer: T3, T14: 1 3/16 in, all others 13/16 in." in screen
    lengths = re.findall(r"^ *T(\d+) .*?  +((?:1 3|13)/16 in)$", screen, re.M)
    assert dict(lengths)["3"] == "1 3/16 in" and dict(lengths)["4"] == "13/16 in"
    assert len(lengths) == len(report.ours.tacks)
    usual = tuple(dataclasses.replace(tack, enlarged=False) for tack in report.ours.tacks)
    plain = dataclasses.replace(report, ours=dataclasses.replace(report.ours, tacks=usual))
    assert "tacks longer" not in shown(plain, capsys)


def choice(screen: str) -> str:
    """What is said of the other plans."""
    return screen.split("Plans to choose from\n")[1].split("\nBefore the arc")[0]


@pytest.mark.parametrize("inch", [False, True])
def test_other_plans_can_be_chosen(inch: bool, capsys: Show) -> None:
    """Named plans stand in a table with number and figures, then the reason and the command for another."""
    report = sample_report(full=False, inch=inch)
    screen = shown(report, capsys)
    said = choice(screen)
    heat, bent = ("187 °F", "0.010 in") if inch else ("86 °C", "0.24 mm")
    assert re.search(rf"^ +9  recommended +1 h 12 min +{heat} +{bent} +23 % +6$", said, re.M)
    assert re.search(r"^ +–  common practice; overloads +2 h 35 min .*131 % +none$", said, re.M)
    sentences = " ".join(said.split())
    assert f"Plan 9 is recommended. {report.trade_off.why}" in sentences
    assert "axlewright plan JOB.toml --choose N" in sentences
    assert max(cell_len(line) for line in screen.splitlines()) <= 80
    alone = shown(dataclasses.replace(report, trade_off=None), capsys)
    assert "choose" not in alone and "recommended" not in alone


def test_no_plan_that_holds_is_said_first(capsys: Show) -> None:
    """Where every plan overloads a tack, that stands above the plan and with what to do below it."""
    report = dataclasses.replace(
        sample_report(full=False), trade_off=trade_off(8, recommended=None, chosen=3)
    )
    screen = shown(report, capsys)
    assert screen.index(NONE_HOLDS) < screen.index("Marks count")
    assert f"{NONE_HOLDS} {report.trade_off.why}" in " ".join(choice(screen).split())
    assert NONE_HOLDS not in shown(sample_report(full=False), capsys)


def test_no_plan_that_holds_is_said_in_bold(capsys: Show, monkeypatch: pytest.MonkeyPatch) -> None:
    """At a terminal both sentences about it are bold; the reason for a recommendation is not."""
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("TERM", "xterm-256color")
    report = sample_report(full=False)
    none = dataclasses.replace(report, trade_off=trade_off(8, recommended=None, chosen=3))
    assert shown(none, capsys).count("\x1b[1mNo plan found keeps every tack") == 2
    assert "\x1b[1mPlan 9 is recommended" not in shown(report, capsys)
