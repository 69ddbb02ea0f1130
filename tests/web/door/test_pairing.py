"""Pairing a device, guessing at codes, and ending a device."""

from __future__ import annotations

import asyncio
import hmac
import json
import os
import re
import stat
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from web.door.conftest import PHONE, SHOP, Asking, Clock
from web.shop_made import MadeUp

from axlewright.web.door import codes, devices
from axlewright.web.door.door import Door
from axlewright.web.door.open_door import OpenDoor
from axlewright.web.open_shop import OpenShop


def run_by_itself(coroutine: Coroutine[Any, Any, None]) -> None:
    """Run a coroutine in a thread of its own: where a browser is driven, this one has a running loop already."""
    with ThreadPoolExecutor(1) as pool:
        pool.submit(asyncio.run, coroutine).result()


def tries(device: TestClient, code: str, name: str = "Ben's tablet") -> Any:
    """A code is typed on a device."""
    return device.post("/pair", data={"code": code, "name": name})


def test_a_device_is_paired(here: TestClient, asking: Asking, old_job: MadeUp) -> None:
    """The code that the shop's computer shows lets a device in, and the device stands on the list with its name."""
    code = re.search(r'id="code-shown">([^<]+)<', here.get("/devices").text)
    assert code is not None
    phone = asking()
    assert tries(phone, code[1], "Ann's phone").headers["location"] == "/"
    assert old_job.job in phone.get("/").text
    assert phone.get("/api/jobs").status_code == 200
    assert "Ann&#39;s phone" in here.get("/devices").text


def test_the_page_shows_the_code_as_qr_too(
    here: TestClient, door: OpenDoor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The QR code leads to the pairing page, the code behind the # that no browser sends."""
    seen = []
    monkeypatch.setattr(
        "axlewright.web.pages.devices.qr_svg", lambda address: seen.append(address) or "<svg/>"
    )
    here.get("/devices")
    alive = door.codes.alive()
    assert alive is not None
    assert seen == [f"{SHOP}/pair#{alive.text}"]


def test_the_qr_needs_no_style_of_its_own(here: TestClient) -> None:
    """The drawing of the QR code stands in the page and holds nothing that the content security policy refuses."""
    text = here.get("/devices").text
    assert 'class="qr"' in text
    assert "style=" not in text


def test_the_code_stays_while_it_is_alive(here: TestClient, door: OpenDoor, clock: Clock) -> None:
    """Looking again shows the same code; another only when asked for, or when it is used or too old."""
    here.get("/devices")
    first = door.codes.alive()
    here.get("/devices")
    assert door.codes.alive() == first
    here.post("/devices/code")
    second = door.codes.alive()
    assert second is not None and second != first
    clock.goes_on(minutes=11)
    here.get("/devices/now")
    assert door.codes.alive() is None
    here.get("/devices")
    assert door.codes.alive() not in (None, second)


@pytest.mark.parametrize("typed", ["{lower}", " {spaced} ", "{dashed}", "{misread}"])
def test_codes_are_read_kindly(door: OpenDoor, typed: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Small letters, spaces, dashes, O for 0 and I or L for 1 do no harm."""
    letters = iter("K0QM1X1T")
    monkeypatch.setattr(codes.secrets, "choice", lambda alphabet: next(letters))
    door.codes.fresh()
    typed = typed.format(lower="k0qm1x1t", spaced="K0QM 1X1T", dashed="K0QM-1X1T", misread="koqmlxit")
    assert door.codes.try_code(typed, "192.168.1.7")


def test_codes_are_hard_to_guess(door: OpenDoor) -> None:
    """A code is 8 of 32 characters that are not taken for one another, a different one each time."""
    made = {door.codes.fresh().text for _ in range(200)}
    assert len(made) == 200
    assert all(len(code) == 8 for code in made)
    assert set("".join(made)) == set(codes.ALPHABET)
    assert len(codes.ALPHABET) == 32
    assert not set(codes.ALPHABET) & set("ILOU")


def test_a_code_pairs_one_device(asking: Asking, door: OpenDoor) -> None:
    """A code that was used pairs nothing more."""
    code = door.codes.fresh().text
    assert tries(asking(), code).status_code == 303
    second = asking(("192.168.1.8", 5000))
    assert tries(second, code).status_code == 422
    assert second.get("/").headers["location"] == "/pair"


def test_a_code_lives_ten_minutes(phone: TestClient, door: OpenDoor, clock: Clock) -> None:
    """After ten minutes a code pairs nothing, nor where the clock was put back."""
    code = door.codes.fresh().text
    clock.goes_on(minutes=10)
    assert tries(phone, code).status_code == 422
    clock.goes_on(minutes=-11)
    assert tries(phone, code).status_code == 422
    clock.goes_on(minutes=2)
    assert tries(phone, code).status_code == 303


def test_a_code_that_was_replaced_pairs_nothing(phone: TestClient, door: OpenDoor) -> None:
    """Another code ends the one before."""
    before, after = door.codes.fresh().text, door.codes.fresh().text
    assert tries(phone, before).status_code == 422
    assert tries(phone, after).status_code == 303


@pytest.mark.parametrize("code", ["", "--------", "00000000", "é" * 8, "0" * 3000, "\x00"])
def test_wrong_codes_pair_nothing(phone: TestClient, door: OpenDoor, code: str) -> None:
    """Whatever else is typed pairs nothing, with a code alive or without, and the name typed is kept."""
    for _ in range(2):
        answer = tries(phone, code, "Ben's tablet")
        assert answer.status_code == 422
        assert "set-cookie" not in answer.headers
        assert "Ben&#39;s tablet" in answer.text
        door.codes.fresh()
    assert door.devices.all() == ()


def test_guessing_is_slow(asking: Asking, here: TestClient, door: OpenDoor, clock: Clock) -> None:
    """After five wrong codes in a minute, of whatever devices, nobody can try for a minute, the right code included.

    The next time it is twice as long, and so on, also across codes, at most an hour.
    """
    waits = []
    for _ in range(8):
        wrong = [tries(asking((f"192.168.1.{n + 20}", 1)), "WRONG").status_code for n in range(5)]
        assert wrong == [422, 422, 422, 422, 429]
        code = door.codes.fresh().text
        refused = tries(asking(("192.168.1.99", 1)), code)
        assert refused.status_code == 429
        waits.append(int(refused.headers["retry-after"]))
        assert "Nobody can pair" in here.get("/devices").text
        clock.goes_on(seconds=waits[-1] - 1)
        assert tries(asking(), door.codes.fresh().text).status_code == 429
        clock.goes_on(seconds=1)
    assert waits == [60, 120, 240, 480, 960, 1920, 3600, 3600]
    assert tries(asking(), door.codes.fresh().text).status_code == 303
    for _ in range(5):
        tries(asking(), "WRONG")
    assert tries(asking(), "WRONG").headers["retry-after"] == "60"


def test_slow_mistyping_is_no_guessing(phone: TestClient, clock: Clock) -> None:
    """Wrong codes that are further apart than five in a minute make nobody wait."""
    for _ in range(20):
        assert tries(phone, "WRONG").status_code == 422
        clock.goes_on(seconds=15.1)


def test_wrong_codes_are_seen(here: TestClient, asking: Asking) -> None:
    """The shop's computer shows how many wrong codes came, and from where."""
    assert "wrong code" not in here.get("/devices").text
    tries(asking(("192.168.1.66", 1)), "WRONG")
    text = here.get("/devices/now").text
    assert "1 wrong code" in text
    assert "192.168.1.66" in text


def test_codes_and_tokens_are_compared_in_constant_time(
    phone: TestClient, paired: TestClient, door: OpenDoor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Both are compared by the function that takes as long for a near miss as for a far one, with every device."""
    compared: list[tuple[object, object]] = []

    def compare(one: Any, other: Any) -> bool:
        compared.append((one, other))
        return hmac.compare_digest(one, other)

    for module in (codes, devices):
        monkeypatch.setattr(module, "hmac", type("Watched", (), {"compare_digest": staticmethod(compare)}))
    door.devices.pair("Ben's tablet")
    assert paired.get("/").status_code == 200
    assert len(compared) == 2
    compared.clear()
    alive = door.codes.fresh().text
    tries(phone, "WRONG")
    assert alive.encode() in [other for _, other in compared]


def test_the_token_is_kept_by_the_device_alone(phone: TestClient, door: OpenDoor) -> None:
    """The cookie has 256 random bits, no script reads it, no other site sends it; its file holds only a digest."""
    answer = tries(phone, door.codes.fresh().text)
    cookie = answer.headers["set-cookie"]
    assert {"httponly", "samesite=strict", "path=/"} <= {part.strip().lower() for part in cookie.split(";")}
    assert int(re.search(r"Max-Age=(\d+)", cookie)[1]) > 31_000_000  # type: ignore[index]
    assert "secure" not in cookie.lower()
    token = phone.cookies["device"]
    assert len(token) == 43
    kept = door.devices.file.read_text(encoding="utf-8")
    assert token not in kept
    assert devices._digest(token) in kept
    if os.name == "posix":
        assert stat.S_IMODE(door.devices.file.stat().st_mode) == 0o600
    assert [file.name for file in door.devices.file.parent.glob("devices*")] == ["devices.json"]


def test_by_https_the_cookie_never_goes_by_http(open_app: FastAPI, door: OpenDoor) -> None:
    """Over HTTPS the cookie is Secure and bound to this very host."""
    base = "https://192.168.1.5:8090"
    phone = TestClient(open_app, base, client=PHONE, headers={"origin": base}, follow_redirects=False)
    cookie = tries(phone, door.codes.fresh().text).headers["set-cookie"]
    assert cookie.startswith("__Host-device=")
    assert "; secure" in cookie.lower()
    assert "domain" not in cookie.lower()
    assert phone.get("/").status_code == 200


def test_no_strict_transport_is_promised(here: TestClient, paired: TestClient) -> None:
    """HSTS is never sent: it would lock a shop out of its own name once its certificate has run out."""
    assert "strict-transport-security" not in paired.get("/").headers


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://elsewhere.example"},
        {"origin": "http://192.168.1.9:8090"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_other_sites_do_nothing_through_a_paired_device(
    paired: TestClient, here: TestClient, door: OpenDoor, job: MadeUp, headers: dict[str, str]
) -> None:
    """What a page of another site has a paired device or this computer send is refused, cookie or not."""
    door.codes.fresh()
    (device,) = door.devices.all()
    events = len(job.store.events(job.job))
    assert paired.post(f"/jobs/{job.job}/notes", data={"words": "x"}, headers=headers).status_code == 403
    assert paired.post("/pair", data={"code": "x"}, headers=headers).status_code == 403
    assert here.post(f"/devices/{device.id}/end", headers=headers).status_code == 403
    assert here.post("/devices/code", headers=headers).status_code == 403
    assert door.devices.all() == (device,)
    assert door.codes.wrong_count == 0
    assert len(job.store.events(job.job)) == events


def test_a_long_form_is_not_taken(phone: TestClient) -> None:
    """Who is not paired cannot send more than a code and a name."""
    assert tries(phone, "x" * 5000).status_code == 413


def test_an_ended_device_is_out_at_once(paired: TestClient, here: TestClient, door: OpenDoor) -> None:
    """Ended on the shop's computer, a device is refused at its next request."""
    assert paired.get("/").status_code == 200
    (device,) = door.devices.all()
    assert here.post(f"/devices/{device.id}/end").headers["location"] == "/devices"
    assert paired.get("/").headers["location"] == "/pair"
    assert paired.get("/api/jobs").status_code == 401
    assert here.post("/devices/none/end").status_code == 303


def test_devices_are_managed_here_only(paired: TestClient, door: OpenDoor) -> None:
    """A paired device sees no codes and ends nobody."""
    (device,) = door.devices.all()
    assert paired.get("/devices").status_code == 403
    assert paired.get("/devices/now").status_code == 403
    assert paired.post("/devices/code").status_code == 403
    assert paired.post(f"/devices/{device.id}/end").status_code == 403
    assert door.devices.all() == (device,)


def test_the_way_to_the_devices(here: TestClient, paired: TestClient, client: TestClient) -> None:
    """The list of jobs leads to the devices on the shop's computer, and nowhere where that leads to nothing."""
    assert 'href="/devices"' in here.get("/").text
    assert 'href="/devices"' not in paired.get("/").text
    assert 'href="/devices"' not in client.get("/").text


def test_paired_anew_a_device_is_listed_once(paired: TestClient, door: OpenDoor) -> None:
    """A device that is paired once more gives up its place from before."""
    tries(paired, door.codes.fresh().text, "Ann's new name")
    assert [device.name for device in door.devices.all()] == ["Ann's new name"]


def test_when_a_device_was_last_seen(paired: TestClient, door: OpenDoor, clock: Clock) -> None:
    """The list keeps, to a minute, when a device last asked."""
    first = door.devices.all()[0].first_seen
    clock.goes_on(seconds=30)
    paired.get("/")
    assert door.devices.all()[0].last_seen == first
    clock.goes_on(minutes=5)
    paired.get("/")
    assert door.devices.all()[0].last_seen == clock.at
    assert door.devices.all()[0].first_seen == first


def test_devices_stay_paired(paired: TestClient, shop: OpenShop) -> None:
    """A shop opened anew knows its devices."""
    again = devices.Devices(shop.data)
    assert again.of_token(paired.cookies["device"]) is not None


@pytest.mark.parametrize(
    "content",
    [b"", b"{", b"[]", b"null", b'{"format": 1}', b'{"format": 2, "devices": []}', b"\xff", b"[" * 100_000],
    ids=range(8),
)
def test_a_damaged_file_lets_nobody_in(
    paired: TestClient, here: TestClient, door: OpenDoor, content: bytes
) -> None:
    """Where the file of the devices is damaged nobody is paired, the page says so, and pairing anew keeps it aside."""
    door.devices.file.write_bytes(content)
    assert paired.get("/").headers["location"] == "/pair"
    assert "is damaged" in here.get("/devices").text
    assert tries(paired, door.codes.fresh().text).status_code == 303
    assert paired.get("/").status_code == 200
    assert door.devices.file.with_name("devices-damaged.json").read_bytes() == content
    assert "is damaged" not in here.get("/devices").text


@pytest.mark.parametrize(
    "wrong", [{"token_sha256": "ab"}, {"token_sha256": None}, {"id": 3}, {"first_seen": "2031"}]
)
def test_one_wrong_entry_makes_none_trusted(
    paired: TestClient, door: OpenDoor, wrong: dict[str, Any]
) -> None:
    """A file with one entry that cannot be is not believed at all."""
    told = json.loads(door.devices.file.read_text(encoding="utf-8"))
    told["devices"].append(told["devices"][0] | wrong)
    door.devices.file.write_text(json.dumps(told), encoding="utf-8")
    assert door.devices.damaged
    assert paired.get("/api/jobs").status_code == 401


def test_the_file_taken_away_ends_all(paired: TestClient, door: OpenDoor) -> None:
    """Without the file, nobody is paired, without opening the shop anew."""
    door.devices.file.unlink()
    assert paired.get("/").headers["location"] == "/pair"


def test_what_cannot_be_written_is_told(
    paired: TestClient, here: TestClient, door: OpenDoor, monkeypatch: pytest.MonkeyPatch, clock: Clock
) -> None:
    """On a full disk nothing is paired or ended, in words; paired devices go on."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(devices.os, "replace", full)
    (device,) = door.devices.all()
    answer = here.post(f"/devices/{device.id}/end")
    assert answer.status_code == 503
    assert "still paired" in answer.text
    clock.goes_on(minutes=5)
    assert paired.get("/").status_code == 200
    monkeypatch.undo()
    assert not list(door.devices.file.parent.glob("*.part"))


def test_names_are_only_words(here: TestClient, phone: TestClient, door: OpenDoor) -> None:
    """A name is one short line, shown as it is and never as markup."""
    tries(phone, door.codes.fresh().text, "<b>\x00\n  Ben  " + "x" * 200)
    (device,) = door.devices.all()
    assert device.name.startswith("<b> Ben x") or device.name.startswith("<b>Ben x")
    assert len(device.name) == 60
    assert "<b>" not in here.get("/devices").text


def test_a_stream_ends_with_its_device(door: OpenDoor, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stream that is open when its device is ended is closed, and what was behind it stops."""
    monkeypatch.setattr("axlewright.web.door.door.LOOKED_AT_EVERY", 0.02)
    token = door.devices.pair("Ann's phone")
    stopped = []

    async def streaming(scope: Any, receive: Any, send: Any) -> None:
        await send({"type": "http.response.start", "status": 200, "headers": []})
        try:
            while True:
                await send({"type": "http.response.body", "body": b"data: x\n\n", "more_body": True})
                await asyncio.sleep(0.01)
        finally:
            stopped.append(True)

    sent: list[Any] = []

    async def send(message: Any) -> None:
        sent.append(message)

    async def watch() -> None:
        scope = {
            "type": "http",
            "path": "/events",
            "method": "GET",
            "scheme": "http",
            "client": PHONE,
            "server": ("192.168.1.5", 8090),
            "headers": [(b"host", b"192.168.1.5:8090"), (b"cookie", f"device={token}".encode())],
        }
        asked = asyncio.ensure_future(Door(streaming, door)(scope, asyncio.Event().wait, send))  # type: ignore[arg-type]
        await asyncio.sleep(0.1)
        assert not asked.done()
        door.devices.end(door.devices.all()[0].id)
        await asyncio.wait_for(asked, 2)

    run_by_itself(watch())
    assert stopped == [True]
    assert len(sent) > 2
    assert sent[-1] == {"type": "http.response.body", "body": b"", "more_body": False}


def test_sockets_of_the_web_are_refused(door: OpenDoor) -> None:
    """What is no plain request is not let in."""
    sent: list[Any] = []

    async def send(message: Any) -> None:
        sent.append(message)

    async def ask() -> None:
        await Door(None, door)({"type": "websocket", "path": "/"}, None, send)  # type: ignore[arg-type]

    run_by_itself(ask())
    assert sent == [{"type": "websocket.close", "code": 1008}]


def test_waits_are_what_is_written() -> None:
    """The figures that the manual gives are those of the code."""
    assert codes.TRIES == 5
    assert timedelta(minutes=1) == codes.WINDOW
    assert timedelta(hours=1) == codes.LONGEST_WAIT
    assert timedelta(minutes=10) == codes.ALIVE
    assert devices.TOKEN_BYTES * 8 == 256
