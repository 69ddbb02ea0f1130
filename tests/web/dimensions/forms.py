"""What the tests of the dimensions form share: demo jobs as typed, and what a page's form would send."""

from __future__ import annotations

import tomllib
from html.parser import HTMLParser

from axlewright.job import demo_names, demo_text
from axlewright.web.form.tree import typed_of
from axlewright.web.form.typed import Typed

DEMOS = demo_names()

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
BRACKET = """
[[bracket]]
name = "hose bracket"
at = 400
clock = "6:30"
length = 60
height = 40
thickness = 5
lies = "along"
"""
FULL = (
    demo_text("rescue-truck")
    .replace("[ambient]", BRACKET + FIXTURE + "[ambient]")
    .replace("tack_spacing = 50", "tack_spacing = 50\nefficiency = 0.8")
    .replace("overhead = false", 'overhead = false\norder = ["guard", "truss"]')
    .replace("[limits]", "[limits]\nspot = 90")
    .replace("camber = 0.10", 'camber = 0.10\niso_13920 = "F"\ncamber_wanted = -0.5\ntoe_wanted = 0.1')
)
"""The largest demo with a bracket, a fixture and every optional figure."""


def typed_demo(name: str) -> Typed:
    """What has to be typed for a demo job."""
    return typed_of(tomllib.loads(demo_text(name)))


def typed_full() -> Typed:
    """What has to be typed for the largest job of these tests."""
    return typed_of(tomllib.loads(FULL))


class SentForm(HTMLParser):
    """What the dimensions form of a page would send, and what is on the page.

    Args:
        html: of the page.
    """

    def __init__(self, html: str) -> None:
        super().__init__()
        self.fields: dict[str, str] = {}
        self.names: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.words: list[str] = []
        self._inside = False
        self._area = self._select = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take in a control."""
        told = {name: value or "" for name, value in attrs}
        if "id" in told:
            self.ids.append(told["id"])
        if "href" in told:
            self.links.append(told["href"])
        self._inside = self._inside or told.get("id") == "dimensions"
        name = told.get("name", "")
        if not self._inside or tag == "button" or (not name and tag != "option"):
            return
        if tag == "input" and (told.get("type") != "radio" or "checked" in told):
            self.fields[name] = told.get("value", "")
        if tag == "textarea":
            self._area, self.fields[name] = name, ""
        if tag == "select":
            self._select, self.fields[name] = name, ""
        if tag == "option" and self._select and "selected" in told:
            self.fields[self._select] = told.get("value", "")
        if name and told.get("type") not in ("hidden", "radio"):
            self.names.append(name)

    def handle_endtag(self, tag: str) -> None:
        """Leave a control."""
        if tag == "form":
            self._inside = False
        self._area = "" if tag == "textarea" else self._area
        self._select = "" if tag == "select" else self._select

    def handle_data(self, data: str) -> None:
        """Take in the text of an area of several lines, whose first line end is not part of it."""
        self.words.append(data)
        if self._area:
            self.fields[self._area] += data if self.fields[self._area] else data.removeprefix("\n")
