"""Tabs of a real browser, and what the browser complained of in them."""

from __future__ import annotations

from collections.abc import Iterator

from playwright.sync_api import Browser, Page
from web.browser.served import SIZES

NO_FAULT = ("Failed to load resource", "Response Status Error Code", "htmx:")


def opened(browser: Browser, size: str, scheme: str) -> Iterator[Page]:
    """A tab of some size, light or dark."""
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)  # type: ignore[arg-type]
    page = context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", lambda line: complaints.append(line.text) if line.type == "error" else None)
    yield page
    context.close()
    # That an answer was an error, or did not come, is told of on the console as well: that is no fault of the page.
    broken = [line for line in complaints if not line.startswith(NO_FAULT)]
    assert not broken, broken
