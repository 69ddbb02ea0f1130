"""Job texts for tests: the demos with one thing changed."""

from __future__ import annotations

import pytest

from axlewright.errors import AxlewrightError
from axlewright.job import demo_text, parse_job

RESCUE = demo_text("rescue-truck")
TRUSS = demo_text("truss-only")
CAST = demo_text("cast-centre")


def changed(text: str, old: str, new: str) -> str:
    """Text with one stretch replaced, which must be there."""
    assert old in text, f"{old!r} is not in the demo any more"
    return text.replace(old, new, 1)


BRACKET = """
[[bracket]]
name = "hose bracket"
at = {at}
clock = {clock}
length = {length}
height = 40
thickness = 5
lies = "{lies}"
"""


FIXTURE = """
[fixture]
prebend = "given"
shim_step = 0.5
[[fixture.support]]
at = 130
shim_under = 0
[[fixture.support]]
at = 650
plane = "both"
stiffness = 80
shim_under = 1.5
shim_behind = 0.5
[[fixture.support]]
at = 1170
"""


def with_bracket(text: str, at: float, clock: float = 9, length: float = 60, lies: str = "along") -> str:
    """A demo with a bracket added at the end."""
    return text + BRACKET.format(at=at, clock=clock, length=length, lies=lies)


def renamed(text: str, old: str, new: str) -> str:
    """A demo with one name replaced."""
    return changed(text, f'name = "{old}"', f'name = "{new}"')


def caught(text: str) -> AxlewrightError:
    """The error that a text is refused with."""
    with pytest.raises(AxlewrightError) as info:
        parse_job(text, "shop.toml")
    return info.value


def check_message(error: AxlewrightError, words: tuple[str, ...]) -> None:
    """Hold an error to one line that names place, value, what is allowed and the remedy."""
    assert len(error.faults) == 1, str(error)
    message = str(error)
    assert message.startswith("shop.toml")
    assert message.count("\n") == 0
    for word in words:
        assert word in message, message
    assert error.faults[0].allowed
    assert error.faults[0].remedy.strip()
