"""A real browser for these tests too; without chromium they are skipped."""

from web.browser.conftest import browser, shop_served, tab

__all__ = ["browser", "shop_served", "tab"]
