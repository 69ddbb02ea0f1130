"""Pictures of every page at every size, light and dark: to be looked at."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright
from web.browser.pages import PAGES
from web.browser.served import ARGUMENTS, CHROMIUM, SIZES, Served, served


def photograph(browser: Browser, shop: Served, pages: dict[str, str], out: Path) -> None:
    """Photograph pages of a shop into a folder: NAME-SIZE-SCHEME.png."""
    for size, (width, height) in SIZES.items():
        for scheme in ("light", "dark"):
            context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)
            page = context.new_page()
            for name, path in pages.items():
                page.goto(shop.url(path), wait_until="networkidle")
                page.screenshot(path=out / f"{name}-{size}-{scheme}.png", full_page=True)
            context.close()


def main(folder: str = "out/screenshots", *names: str) -> None:
    """Photograph all pages, or those that are named, with a shop without a job besides."""
    out = Path(folder)
    out.mkdir(parents=True, exist_ok=True)
    pages = {name: PAGES[name] for name in names} if names else PAGES
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as data:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        with served(Path(data) / "shop") as shop:
            photograph(browser, shop, pages, out)
        if not names:
            with served(Path(data) / "empty", filled=False) as shop:
                photograph(browser, shop, {"jobs-none": "/"}, out)
        browser.close()
    sys.stdout.write(f"{len(list(out.glob('*.png')))} pictures in {out}\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
