"""A shop that is open to the local network, with a clock that is moved by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from axlewright.web.app import make_app
from axlewright.web.door.open_door import OpenDoor, open_door
from axlewright.web.open_shop import OpenShop

SHOP = "http://192.168.1.5:8090"
PHONE = ("192.168.1.7", 5000)
HERE = ("127.0.0.1", 5000)


@dataclass
class Clock:
    """A clock that is moved by hand."""

    at: datetime = datetime(2031, 6, 3, 14, 5, tzinfo=UTC)

    def __call__(self) -> datetime:
        """What it shows."""
        return self.at

    def goes_on(self, **by: float) -> None:
        """Move it."""
        self.at += timedelta(**by)


@pytest.fixture
def clock() -> Clock:
    """The clock of the door."""
    return Clock()


@pytest.fixture
def door(shop: OpenShop, clock: Clock) -> OpenDoor:
    """The opened door."""
    return open_door(shop.data, (SHOP,), names=frozenset({"bench.local"}), now=clock)


@pytest.fixture
def open_app(shop: OpenShop, door: OpenDoor) -> FastAPI:
    """The application behind the door."""
    return make_app(shop, door=door)


Asking = Callable[..., TestClient]


@pytest.fixture
def asking(open_app: FastAPI) -> Asking:
    """Makes a device that asks: `asking()` is a phone, `asking(HERE, "http://localhost")` the shop's own computer."""

    def make(client: tuple[str, int] = PHONE, base_url: str = SHOP) -> TestClient:
        return TestClient(
            open_app,
            base_url=base_url,
            client=client,
            headers={"origin": base_url, "accept": "text/html"},
            follow_redirects=False,
        )

    return make


@pytest.fixture
def phone(asking: Asking) -> TestClient:
    """A phone that was never paired."""
    return asking()


@pytest.fixture
def here(asking: Asking) -> TestClient:
    """The shop's own computer."""
    return asking(HERE, "http://localhost:8090")


@pytest.fixture
def paired(phone: TestClient, door: OpenDoor) -> TestClient:
    """A phone that was paired as "Ann's phone"."""
    code = door.codes.fresh().text
    assert phone.post("/pair", data={"code": code, "name": "Ann's phone"}).status_code == 303
    return phone
