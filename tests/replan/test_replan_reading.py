"""Reading a bead log: its forms, its units, and every way it can be wrong."""

from __future__ import annotations

import pytest
from plan.planned import small_job
from reference.jobs import demo
from replan.bench_log import HEADER, faults_of, intent_for, log_of

from axlewright.errors import LogError
from axlewright.plan.replan.events import (
    AmbientChanged,
    ArcStarted,
    ArcStopped,
    BeadSkipped,
    SettingChanged,
    TackLeftOut,
    TacksDone,
    TackSet,
    TemperatureRead,
    Turned,
)
from axlewright.plan.replan.reading import EVENTS, parse_log, read_log
from axlewright.plan.replan.times import backward

INTENT = intent_for(small_job())


def test_every_event_can_be_written() -> None:
    """One line of each kind becomes what it says, in SI."""
    log = log_of(
        INTENT,
        "0,tack,T1,,,,,,,,",
        "1,no tack,T2,,,,,,,,",
        "2,tacks done,,,,,,,,,",
        "3.5,start,a1,,,,,,,,first bead",
        "3.6,stop,A1,,,,290,,,,",
        "4,skip,B 2,,,,,,,,",
        "5,setting,,,,,,amps,175,,",
        "6,temperature,A2,,,,,,61,3,",
        "7,temperature,,,,,,left bearing seat,31,,",
        "8,ambient,,,,,,,18,,",
        "9,turn,,,,,,,90,,",
        "10,note,,,,,,,,,tea",
    )
    assert not log.faults
    kinds = [type(event) for event in log.events]
    assert kinds == [
        *(TackSet, TackLeftOut, TacksDone, ArcStarted, ArcStopped, BeadSkipped),
        *(SettingChanged, TemperatureRead, TemperatureRead, AmbientChanged, Turned),
    ]
    assert len(EVENTS) == 11
    start, stop, amps, first, second = (log.events[n] for n in (3, 4, 6, 7, 8))
    assert (start.time, start.bead, start.exact) == (210.0, 0, True)
    assert stop.to_s == pytest.approx(0.04)
    assert (amps.setting, amps.value) == ("amps", 175.0)
    assert (first.temperature, first.error, first.exact) == (61.0, 3.0, False)
    step = next(step for step in INTENT.steps if step.bead == INTENT.names.bead("A2"))
    assert first.stretch == INTENT.bench.model.pieces[step.bead][-1 if step.reverse else 0]
    assert (second.place, second.stretch) == (0, None)


@pytest.mark.parametrize(
    "text",
    [
        "time;event;bead;value;error\n4,5;temperature;A1;61,5;2,5\n",
        "\ufeff# at the bench\n\nTime,EVENT,bead,error,value\n# a remark\n4.5,Temperature,a1,2.5,61.5\n",
        'time,event,bead,value,error\n"4,5",temperature,A1,142.7 degF,4.5 degF\n',
    ],
)
def test_separators_units_and_comments(text: str) -> None:
    """Semicolons with decimal commas, comments, blank lines, any case and any order of columns, text with units."""
    log = parse_log(text, "log.csv", INTENT.names, inch=False)
    assert not log.faults
    (event,) = log.events
    assert event.time == 270.0
    assert event.temperature == pytest.approx(61.5, abs=1e-6)
    assert event.error == pytest.approx(2.5, abs=1e-6)


def test_bare_numbers_of_an_inch_job_are_inches_and_degf() -> None:
    """A mark of 11 1/2 is a tape reading in inches, 140 is in degF."""
    names = intent_for(demo("cast-centre")).names
    text = HEADER + "1,stop,A1,,,,9 1/4,,,,\n2,temperature,A2,,,,,,140,9,\n"
    log = parse_log(text, "log.csv", names, inch=True)
    assert not log.faults
    assert names.distance_of(0, log.events[0].to_s) == pytest.approx(9.25 * 0.0254, abs=1e-6)
    assert log.events[1].temperature == pytest.approx(60.0)
    assert log.events[1].error == pytest.approx(5.0)


def test_a_bead_may_be_named_by_seam_and_mark() -> None:
    """Attachment, seam and the mark it starts at name the bead that is begun there; two marks tell the direction."""
    log = log_of(
        INTENT,
        "1,start,,upper,front side,250,,,,,",
        "2,start,,upper,front side,350,300,,,,",
        "3,temperature,,upper,front side,275,,,60,,",
    )
    assert not log.faults
    assert log.events[0].bead == INTENT.names.bead("A1")
    assert log.events[1].bead == INTENT.names.bead("A2")
    assert log.events[1].from_s > log.events[1].to_s
    assert log.events[2].stretch is not None


BAD = [
    ("3,start,A9,,,,,,,,", 'bead is "A9"', "A1 to A2"),
    ("3,strat,A1,,,,,,,,", 'event is "strat"', 'Did you mean "start"'),
    ("3,,A1,,,,,,,,", "event is missing", "start"),
    (",start,A1,,,,,,,,", "time is missing", "minutes since the first arc"),
    ("25:10,start,A1,,,,,,,,", 'time is "25:10"', "14:05"),
    ("later,start,A1,,,,,,,,", 'time is "later"', "14:05"),
    ("3,stop,A1,,,,wide,,,,", '"wide"', "mm"),
    ("3,stop,A1,,,,9000,,,,", '"9000"', "long"),
    ("3,start,,upper,top side,250,,,,,", 'seam is "upper / top side"', "Did you mean"),
    ("3,start,,upper,front side,,,,,,", "bead is missing", "from"),
    ("3,start,A1,lower,,,,,,,", 'attachment is "lower"', '"upper"'),
    ("3,stop,,,,,300,,,,", "bead is missing", "A3"),
    ("3,temperature,A1,,,,,,hot,,", 'temperature is "hot"', "degC"),
    ("3,temperature,A1,,,,,,,,", "value is missing", "value"),
    ("3,temperature,A1,,,,,,5000,,", 'value is "5000"', "1000"),
    ("3,temperature,A1,,,,,,60,0,", 'error is "0"', "0.1 to 100"),
    ("3,temperature,,,,,,left bearing set,60,,", 'what is "left bearing set"', "left bearing seat"),
    ("3,temperature,,,,,,,60,,", "what is missing", "left bearing seat"),
    ("3,setting,,,,,,amp,170,,", 'what is "amp"', 'Did you mean "amps"'),
    ("3,setting,,,,,,amps,1700,,", 'value is "1700"', "20 to 500 A"),
    ("3,ambient,,,,,,,70,,", 'value is "70"', "-30 to 60"),
    ("3,turn,,,,,,,up,,", 'value is "up"', "360"),
    ("3,tack,T99,,,,,,,,", 'bead is "T99"', "T1 to T8"),
    ('3,start,"A1,,,,,,,,', "", "double quotes"),
    ("3,start,A1,,,,,,,,,,more", "1 cells too long", "11 columns"),
]


@pytest.mark.parametrize(("line", "says", "helps"), BAD)
def test_a_bad_line_is_told_and_the_rest_kept(line: str, says: str, helps: str) -> None:
    """The message names the line, what stands there and what helps; the lines around it are read."""
    log = log_of(INTENT, "# remark", "1,start,A1,,,,,,,,", line, "5,stop,A1,,,,,,,,")
    (fault,) = faults_of(log)
    assert fault.startswith("log.csv line 4")
    assert says in fault and helps in fault
    assert [event.time for event in log.events] == [60.0, 300.0]


def test_a_mark_far_from_its_bead_is_a_slip() -> None:
    """On a long seam a mark more than 150 mm beyond the bead is refused, one a little beyond is a longer bead."""
    intent = intent_for(demo("truss-only"))
    x = round(1e3 * intent.names.distance_of(0, intent.names.assembly.beads[0].end))
    log = log_of(intent, f"1,stop,A1,,,,{x + 20},,,,", f"2,stop,A1,,,,{x + 220},,,,")
    assert len(log.events) == 1
    assert "away from bead A1" in faults_of(log)[0]


def test_time_running_backwards_costs_one_line() -> None:
    """Of times 1, 2, 30, 3, 4 min only the slip of 30 is left out."""
    log = log_of(
        INTENT,
        *(f"{minute},note,,,,,,,,," for minute in (1, 2)),
        "30,skip,A1,,,,,,,,",
        "3,skip,A2,,,,,,,,",
        "4,skip,B1,,,,,,,,",
    )
    (fault,) = faults_of(log)
    assert fault.startswith('log.csv line 4: time is "30"')
    assert "backwards" in fault
    assert [event.time for event in log.events] == [180.0, 240.0]


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("times", "wrong"),
    [
        ([], []),
        ([1, 2, 2, 3], []),
        ([1, 30, 2, 3], [1]),
        ([2, 1], [1]),
        ([5, 6, 1, 7], [2]),
        ([3, 2, 1], [1, 2]),
    ],
)
def test_the_fewest_lines_are_left_out(times: list[float], wrong: list[int]) -> None:
    """What is left rises, nothing that could stay is taken, and of two slips as likely the later line is blamed."""
    assert backward(times) == wrong


def test_the_clock_passes_midnight() -> None:
    """23:58, 00:03 are five minutes apart; a date carries a job over to the next day."""
    log = log_of(INTENT, "23:58,skip,A1,,,,,,,,", "00:03:30,skip,A2,,,,,,,,")
    assert not log.faults
    assert log.clock
    assert log.events[1].time - log.events[0].time == 330.0
    log = log_of(
        INTENT,
        "2025-03-01 17:00,skip,A1,,,,,,,,",
        "2025-03-02 08:00,skip,A2,,,,,,,,",
        "08:30,skip,B1,,,,,,,,",
    )
    assert not log.faults
    assert [event.time - log.events[0].time for event in log.events[1:]] == [15 * 3600.0, 15.5 * 3600.0]


def test_clock_and_minutes_do_not_mix() -> None:
    """The fewer lines written the other way are told and left out."""
    log = log_of(INTENT, "14:00,skip,A1,,,,,,,,", "14:10,skip,A2,,,,,,,,", "25,skip,B1,,,,,,,,")
    assert len(log.events) == 2
    assert faults_of(log)[0].startswith('log.csv line 4: time is "25"')


def test_an_unknown_column_is_told_and_the_others_read() -> None:
    """A misspelt column costs its cells only."""
    log = log_of(INTENT, "1,start,A1,3", header="time,event,bead,vlaue\n")
    assert faults_of(log) == [
        'log.csv line 1: column "vlaue": there is no such column, it is not read. Did you mean "value"?'
    ]
    assert len(log.events) == 1


@pytest.mark.parametrize(
    "text", ["", "# nothing\n", "1,start,A1\n", "bead,event\nA1,start\n", "a" * 1_000_001]
)
def test_a_log_without_its_columns_is_refused(text: str) -> None:
    """Without a line that names time and event nothing can be read; the message says so."""
    with pytest.raises(LogError, match=r"log\.csv"):
        parse_log(text, "log.csv", INTENT.names, inch=False)


def test_a_file_that_cannot_be_read_is_refused(tmp_path) -> None:
    """A missing file, a folder and bytes that are no UTF-8 each give one clear error, with the line of the bytes."""
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(LogError, match="unreadable"):
            read_log(path, INTENT.names, inch=False)
    path = tmp_path / "log.csv"
    path.write_bytes(b"time,event\n1,note\n2,caf\xe9\n")
    with pytest.raises(LogError, match=r"line 3 is not UTF-8"):
        read_log(path, INTENT.names, inch=False)


def test_the_log_is_never_written_to(tmp_path) -> None:
    """Reading a log, faults and all, leaves its bytes and its time as they are."""
    path = tmp_path / "log.csv"
    path.write_bytes((HEADER + "1,start,A9,,,,,,,,\n").encode())
    before = path.read_bytes(), path.stat().st_mtime_ns
    assert read_log(path, INTENT.names, inch=False).faults
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
