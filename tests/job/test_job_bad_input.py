"""Every fault of the file gets one clear message with place, value, what is allowed and the remedy."""

from __future__ import annotations

import pytest
from job_texts import CAST, FIXTURE, RESCUE, TRUSS, caught, changed, check_message

from axlewright.errors import JobFileError

# what is wrong: (text, error, words the message must contain)
FILE_FAULTS = {
    "force as a stiffness": (
        TRUSS + changed(FIXTURE, "stiffness = 80", 'stiffness = "80 kN"'),
        ("stiffness in [[fixture.support]] no. 2", "kN measures force", "this is a stiffness", "50 kN/mm"),
    ),
    "newtons typed as kilonewtons": (
        TRUSS + changed(FIXTURE, "stiffness = 80", "stiffness = 80000"),
        ("stiffness in [[fixture.support]] no. 2", "80000 kN/mm", "0.5 to 1000 kN/mm"),
    ),
    "fixture without supports": (
        TRUSS + "\n[fixture]\nshim_step = 0.1\n",
        ("[fixture.support]", "missing", "one [[fixture.support]] each"),
    ),
    "unknown kind of pre-bend": (
        TRUSS + changed(FIXTURE, 'prebend = "given"', 'prebend = "some"'),
        ("prebend in [fixture]", '"best", "none" or "given"'),
    ),
    "unknown key, nearest suggested": (
        changed(RESCUE, "thickness = 5\n", "thicknes = 5\n"),
        ("thicknes in [[truss]] no. 1", "no such key", 'Did you mean "thickness"?'),
    ),
    "unknown section": (changed(RESCUE, "[ambient]", "[ambiant]"), ("ambiant", 'Did you mean "ambient"?')),
    "python name instead of the file's key": (
        changed(TRUSS, "from = 206", "start = 206\nfrom = 206"),
        ("start in [[truss]] no. 1", "no such key"),
    ),
    "missing dimension": (
        changed(RESCUE, "length = 1300", ""),
        ("length in [housing]", "missing", "outer faces of the two knuckle flanges"),
    ),
    "missing section": (
        changed(TRUSS, "[housing.knuckle_flange]\ndiameter = 200\nthickness = 22", ""),
        ("[housing.knuckle_flange]", "missing"),
    ),
    "negative dimension": (changed(RESCUE, "width = 60", "width = -60"), ("-60 mm", "20 to 180 mm")),
    "not a number": (changed(RESCUE, "width = 60", "width = nan"), ("nan", "finite")),
    "infinite": (changed(RESCUE, "width = 60", "width = inf"), ("inf", "finite")),
    "infinite text": (changed(RESCUE, "width = 60", 'width = "1e999 mm"'), ("1e999 mm", "finite")),
    "true as a length": (changed(RESCUE, "width = 60", "width = true"), ("true", "number")),
    "date as a length": (changed(RESCUE, "width = 60", "width = 2024-01-01"), ("2024-01-01", "number")),
    "huge integer": (
        changed(RESCUE, "width = 60", "width = 1" + "0" * 400),
        ("more than 20 digits", "finite"),
    ),
    "temperature as a length": (
        changed(RESCUE, "width = 60", 'width = "20 degC"'),
        ('"20 degC"', "degC measures temperature", "this is a length"),
    ),
    "unknown unit": (changed(RESCUE, "width = 60", 'width = "3 cubits"'), ("cubits", "not known")),
    "decimal comma": (changed(RESCUE, "width = 60", 'width = "60,5 mm"'), ('"60,5 mm"',)),
    "section a number": (changed(TRUSS, "[job]", "supports = 5\n[job]"), ("[supports]", "must be a table")),
    "unknown unit system": (
        changed(RESCUE, 'units = "mm"', 'units = "cm"'),
        ("units", '"cm"', '"mm" or "inch"'),
    ),
    "unit system missing": (changed(RESCUE, 'units = "mm"', ""), ("units", "missing", '"mm" or "inch"')),
    "unit system a list": (changed(RESCUE, 'units = "mm"', "units = [1]"), ("units", '"mm" or "inch"')),
    "13 m axle": (
        changed(RESCUE, "length = 1300", "length = 13000"),
        ("13000 mm", "600 to 2600 mm", "units"),
    ),
    "inches typed into a mm job": (
        changed(RESCUE, "length = 1300", "length = 51.2"),
        ("51.2 mm", "600 to 2600 mm"),
    ),
    "mm typed into an inch job": (
        changed(CAST, 'length = "54 1/2"', "length = 1384"),
        ("1384 in", "102.4 in"),
    ),
    "thick wall": (changed(RESCUE, "wall = 8  ", "wall = 60  "), ("60 mm", "2 to 25 mm")),
    "zero travel speed": (
        changed(RESCUE, "travel_speed = 270", "travel_speed = 0"),
        ("travel_speed in [welder]", "40 to 2000"),
    ),
    "negative travel speed": (
        changed(RESCUE, "travel_speed = 270", "travel_speed = -5"),
        ("travel_speed", "-5"),
    ),
    "minutes without a unit": (changed(RESCUE, '"15 min"', "15"), ("15 s", "1 to 120 min", '"15 min"')),
    "no such process": (
        changed(RESCUE, "process = 135", "process = 999"),
        ("process in [welder]", "999", "135"),
    ),
    "efficiency above one": (
        changed(RESCUE, "amps = 165", "amps = 165\nefficiency = 1.5"),
        ("efficiency", "0.3 to 1"),
    ),
    "word not in the list": (
        changed(RESCUE, 'side = "front"', 'side = "top"'),
        ("side in [[guard]] no. 1", '"front" or "rear"'),
    ),
    "single brackets": (changed(TRUSS, "[[truss]]", "[truss]"), ("[[truss]]", "double brackets")),
    "section of no meaning": (changed(TRUSS, "[welder]", "[extra]\n[welder]"), ("extra", "no such key")),
    "clock past twelve": (
        changed(RESCUE, "clock = 3", "clock = 14"),
        ("clock in [[gusset]] no. 1", "14", "1 to 12"),
    ),
    "clock of nonsense": (changed(RESCUE, "clock = 3", 'clock = "3:75"'), ('"3:75"', "1 to 12")),
    "top point of three": (
        changed(RESCUE, "[620, 190]", "[620, 190, 3]"),
        ("top (entry 3) in [[truss]] no. 1", "at most 2 entries"),
    ),
    "top point of text": (
        changed(RESCUE, "[620, 190]", '[620, "tall"]'),
        ("top (entry 3, number 2)", '"tall"'),
    ),
    "empty name": (
        changed(RESCUE, 'name = "main truss"', 'name = ""'),
        ("name in [[truss]] no. 1", "1 to 80"),
    ),
    "name with a control character": (
        changed(RESCUE, 'name = "main truss"', 'name = "a\\u001b[31m"'),
        ("1 to 80",),
    ),
    "order twice": (
        changed(RESCUE, "[bench]", '[bench]\norder = ["guard", "guard"]'),
        ("order in [bench]", "once"),
    ),
    "no pause count": (
        changed(RESCUE, "beads_between_cool_downs = 5", "beads_between_cool_downs = 0"),
        ("beads_between_cool_downs",),
    ),
    "turn of a full circle": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = [0, 360]"),
        ("turns (entry 2) in [bench]", "360", "0 to less than 360", "90 front side up"),
    ),
    "turn below nought": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = [-90]"),
        ("turns (entry 1) in [bench]", "-90", "270 rear side up"),
    ),
    "turn of text": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", 'turns = [0, "90 deg"]'),
        ("turns (entry 2) in [bench]", '"90 deg"', "a number of degrees"),
    ),
    "turn of nonsense": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = [nan]"),
        ("turns (entry 1) in [bench]", "nan", "a number of degrees"),
    ),
    "turn true": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = [true]"),
        ("turns (entry 1) in [bench]", "true", "a number of degrees"),
    ),
    "turn twice": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = [90, 0, 90.0]"),
        ("turns in [bench]", "90 twice", "once"),
    ),
    "no turn": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = []"),
        ("turns in [bench]", "at least 1 entry", "0 as on the vehicle"),
    ),
    "turns without a list": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = 90"),
        ("turns in [bench]", "90", "must be a list"),
    ),
    "turns without end": (
        changed(RESCUE, "turns = [0, 90, 180, 270]", "turns = [" + "1, " * 100_000 + "2]"),
        ("turns in [bench]", "a list of 100001", "at most 12 entries"),
    ),
    "turn time without a unit": (
        changed(RESCUE, 'turn_time = "2 min"', "turn_time = 2"),
        ("turn_time in [bench]", "2 s", "0.5 to 60 min", "unit"),
    ),
    "turn time of hours": (
        changed(RESCUE, 'turn_time = "2 min"', 'turn_time = "2 h"'),
        ("turn_time in [bench]", '"2 h"', "0.5 to 60 min"),
    ),
    "overhead in words": (
        changed(RESCUE, "overhead = false", 'overhead = "no"'),
        ("overhead in [bench]", '"no"', "true or false"),
    ),
    "overhead as a number": (
        changed(RESCUE, "overhead = false", "overhead = 1"),
        ("overhead in [bench]", "1", "true or false"),
    ),
    "only word of a list wrong": (
        changed(RESCUE, "[bench]", '[bench]\norder = ["spring"]'),
        ("order (entry 1) in [bench]", '"spring"', '"bracket"'),
    ),
    "not TOML": (changed(RESCUE, "wall = 8", "wall 8"), ("line 22", "not TOML")),
    "key twice": (changed(RESCUE, "wall = 8", "wall = 8\nwall = 9"), ("not TOML", "line 23")),
    "brackets without end": ("a = " + "[" * 100_000, ("nested",)),
    "key without end": ('units = "mm"\n' + "a." * 200_000 + "a = 1", ("line 2", "at most three parts")),
    "quoted key without end": (
        'units = "mm"\n' + '"a\\"b".' * 50_000 + "a = 1",
        ("line 2", "at most three parts"),
    ),
    "top of a hundred thousand corners": (
        changed(TRUSS, "[620, 190]", "[1, 2], " * 100_000 + "[620, 190]"),
        ("top in [[truss]] no. 1", "a list of 100006", "at most 60 entries"),
    ),
    "empty": ("", ("empty", "demo")),
    "blank": ("  \n\t\n", ("empty",)),
    "nothing but comments": ("# hello\n", ("nothing but comments",)),
    "ten megabytes of noise": ("x7#\n" * 2_500_000, ("1 MB",)),
}


@pytest.mark.parametrize(("text", "words"), FILE_FAULTS.values(), ids=FILE_FAULTS)
def test_a_fault_of_the_file_gets_one_message(text: str, words: tuple[str, ...]) -> None:
    """A file that breaks a rule of its keys is refused with one message: place, value, remedy."""
    error = caught(text)
    assert type(error) is JobFileError
    check_message(error, words)


def test_several_faults_are_all_named() -> None:
    """Two independent slips give two messages, so that one run shows both."""
    text = changed(changed(RESCUE, "width = 60", "width = -60"), "volts = 20.5", "volts = 0")
    error = caught(text)
    assert [fault.value for fault in error.faults] == ["-60 mm", "0 V"]


def test_a_screen_of_messages_is_enough() -> None:
    """Of a hundred faults twenty are shown and the rest is counted."""
    error = caught(RESCUE + "\n[limits2]\n" + "\n".join(f"[x{n}]" for n in range(100)))
    assert len(error.faults) == 21
    assert "more faults" in error.faults[-1].allowed


def test_the_line_of_the_key_is_named() -> None:
    """The message of a wrong value points at the line of its key."""
    text = changed(RESCUE, "amps = 165", "amps = 9999")
    line = text[: text.index("amps = 9999")].count("\n") + 1
    assert f"shop.toml line {line}: amps in [welder]" in str(caught(text))


def test_the_line_of_a_missing_key_is_that_of_its_section() -> None:
    """A key that is not there is reported on the line of its section's heading."""
    text = changed(RESCUE, "amps = 165", "")
    line = text[: text.index("[welder]")].count("\n") + 1
    assert f"shop.toml line {line}: amps in [welder]" in str(caught(text))


def test_the_names_of_the_code_are_no_keys() -> None:
    """`start` is the code's word; in the file it is an unknown key, and `from` is missing."""
    error = caught(changed(TRUSS, "from = 206", "start = 206"))
    assert [fault.allowed for fault in error.faults] == ["this key is needed", "no such key"]
    assert "trusses: no such key" in str(caught(changed(TRUSS, "[[truss]]", "[[trusses]]")))


def test_a_misspelt_key_is_one_fault() -> None:
    """The missing key that a misspelt one explains is not reported as well."""
    error = caught(changed(TRUSS, "length = 1300", "lenght = 1300"))
    assert [fault.remedy for fault in error.faults] == ['Did you mean "length"?']
