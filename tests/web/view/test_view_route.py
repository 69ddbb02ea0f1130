"""The picture of a plan, as the shop serves it, and what the page needs for it."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import matplotlib
import numpy as np
import pytest
from fastapi.testclient import TestClient
from web.view.viewed_plans import picture, with_picture

from axlewright.record.store import Store
from axlewright.tasks import viewing
from axlewright.web.pages import view

STATIC = Path(view.__file__).parent.parent / "static"


def test_a_picture_is_served_packed_and_kept_for_good(client: TestClient, store: Store) -> None:
    """A browser gets the bytes of the record as gzip content, with a mark by which it need not ask again."""
    job, event = with_picture(store)
    address = f"/jobs/{job.job}/plans/{event.number}/view.bin"
    answer = client.get(address)
    assert answer.status_code == 200
    assert answer.headers["content-encoding"] == "gzip"
    assert "immutable" in answer.headers["cache-control"]
    assert answer.headers["etag"] == f'"{event.documents[1].digest}"'
    assert answer.content == gzip.decompress(picture())
    again = client.get(address, headers={"if-none-match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_who_cannot_unpack_gets_it_unpacked(client: TestClient, store: Store) -> None:
    """Without gzip among what is accepted, the picture comes plain."""
    job, event = with_picture(store)
    answer = client.get(
        f"/jobs/{job.job}/plans/{event.number}/view.bin", headers={"accept-encoding": "identity"}
    )
    assert "content-encoding" not in answer.headers
    assert answer.content[:8] == b"axleview"


@pytest.mark.parametrize("number", [0, 1, 2, 99])
def test_a_plan_without_a_picture_is_told_of(client: TestClient, store: Store, number: int) -> None:
    """Where an event is no plan with a picture, or not there, the answer says what to do."""
    job, _ = with_picture(store)
    job.plan()
    address = f"/jobs/{job.job}/plans/{number if number != 2 else 3}/view.bin"
    answer = client.get(address)
    assert 400 <= answer.status_code < 500
    assert "has no picture" in answer.text
    assert client.get(f"/jobs/nothing/plans/{number}/view.bin").status_code in range(400, 500)


def test_page_and_maker_call_it_the_same() -> None:
    """The route, which loads no numpy, and the task that makes pictures name the document alike."""
    assert view.VIEW_FILE == viewing.VIEW_FILE


def test_the_colour_scale_is_cividis() -> None:
    """The page's 33 colours are those of matplotlib's cividis at even steps."""
    text = (STATIC / "view" / "cividis.js").read_text(encoding="utf-8")
    table = re.findall(r"\b[0-9a-f]{6}\b", text.split("`")[1])
    colours = matplotlib.colormaps["cividis"](np.linspace(0.0, 1.0, 33))[:, :3]
    assert table == ["".join(f"{round(255 * part):02x}" for part in colour) for colour in colours]


def test_everything_the_first_look_needs_is_below_400_kilobytes() -> None:
    """Style, scripts, htmx, three.js and the view together, compressed as the server does it."""
    files = [
        *STATIC.glob("*.css"),
        *STATIC.glob("*.js"),
        *STATIC.glob("view/*.js"),
        *STATIC.glob("vendor/*.js"),
    ]
    sizes = {file.name: len(gzip.compress(file.read_bytes(), 6)) for file in files}
    assert {"three.min.js", "htmx.min.js", "view.js", "shop.css"} <= set(sizes)
    assert sizes["three.min.js"] < 160_000
    assert sum(sizes.values()) < 300_000  # the page itself has the rest
