"""The real server, opened to the network this machine is in."""

from __future__ import annotations

import http.client
import os
import shutil
import ssl
import subprocess
import sys
import time
import urllib.parse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from web.door.test_certificate import made
from web.serving import serve_command

from axlewright.web.door.addresses import own_addresses

needs_network = pytest.mark.skipif(not own_addresses(), reason="this machine is in no network")


@contextmanager
def served(data: Path, *options: str) -> Iterator[tuple[int, str]]:
    """`axlewright serve --shop` on a free port: the port, and all that it says at its start."""
    command = [sys.executable, "-m", "axlewright", "serve", "--shop", "--port", "0", "--no-browser"]
    # The server must not believe headers even where the environment asks it to.
    environment = {**os.environ, "FORWARDED_ALLOW_IPS": "*"}
    with subprocess.Popen(
        [*command, "--data", str(data), *options], stderr=subprocess.PIPE, text=True, env=environment
    ) as process:
        try:
            assert process.stderr is not None
            first = process.stderr.readline()
            words = [first]
            while "lost." not in words[-1] and words[-1]:
                words.append(process.stderr.readline())
            yield int(first.rsplit(":", 1)[1]), "".join(words)
        finally:
            process.kill()


def asked(
    connection: http.client.HTTPConnection,
    method: str,
    path: str,
    body: dict[str, str] | None = None,
    **headers: str,
) -> tuple[int, http.client.HTTPMessage, str]:
    """Status, headers and text of an answer; the server is waited for."""
    sent = {"accept": "text/html", **{name.replace("_", "-"): value for name, value in headers.items()}}
    text = urllib.parse.urlencode(body or {}) or None
    if text:
        sent["content-type"] = "application/x-www-form-urlencoded"
    for _ in range(100):
        try:
            connection.request(method, path, text, sent)
            answer = connection.getresponse()
            return answer.status, answer.headers, answer.read().decode()
        except ConnectionRefusedError:
            time.sleep(0.1)
        finally:
            connection.close()
    raise AssertionError("the server does not answer")


def code_on(page: str) -> str:
    """The code that the page of the devices shows."""
    return page.split('id="code-shown">')[1].split("<")[0]


@needs_network
@pytest.mark.parametrize(
    "address", own_addresses()[:1] + tuple(a for a in own_addresses() if a.startswith("["))[:1]
)
def test_a_device_of_the_network_is_paired(tmp_path: Path, address: str) -> None:
    """From another address than this machine's own nothing is shown before the code was typed."""
    with served(tmp_path / "d") as (port, words):
        assert f"http://{address}:{port}" in words
        assert "can read and change all" in words
        device = http.client.HTTPConnection(address.strip("[]"), port, timeout=20)
        host = f"{address}:{port}"
        pretending = {"host": host, "x_forwarded_for": "127.0.0.1", "x_forwarded_proto": "https"}
        status, headers, _ = asked(device, "GET", "/", **pretending)
        assert (status, headers["location"]) == (303, "/pair")
        assert asked(device, "GET", "/api/jobs", **pretending)[0] == 401
        as_here = {**pretending, "host": f"localhost:{port}"}
        assert asked(device, "GET", "/api/jobs", **as_here)[0] == 401
        here = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        code = code_on(asked(here, "GET", "/devices", host=f"localhost:{port}")[2])
        form = {"code": code, "name": "Ann's phone"}
        status, headers, _ = asked(device, "POST", "/pair", form, host=host, origin=f"http://{host}")
        assert status == 303
        cookie = headers["set-cookie"].split(";")[0]
        status, _, text = asked(device, "GET", "/", host=host, cookie=cookie)
        assert status == 200
        assert "The shop has no job yet" in text


@needs_network
@pytest.mark.skipif(shutil.which("openssl") is None, reason="openssl is not installed")
def test_https_with_the_shops_own_certificate(tmp_path: Path) -> None:
    """With a certificate the shop is served by HTTPS, a device that trusts it is paired, plain HTTP gets nothing."""
    address = own_addresses()[0]
    file, key = made(tmp_path, names=f"DNS:localhost,IP:127.0.0.1,IP:{address}")
    with served(tmp_path / "d", "--certificate", str(file), "--key", str(key)) as (port, words):
        assert f"https://{address}:{port}" in words
        assert "Plain HTTP" not in words
        trusting = ssl.create_default_context(cafile=str(file))
        trusting.verify_flags &= ~ssl.VerifyFlags.VERIFY_X509_STRICT
        here = http.client.HTTPSConnection("127.0.0.1", port, timeout=20, context=trusting)
        code = code_on(asked(here, "GET", "/devices", host=f"localhost:{port}")[2])
        device = http.client.HTTPSConnection(address, port, timeout=20, context=trusting)
        form = {"code": code, "name": "Ann's phone"}
        status, headers, _ = asked(device, "POST", "/pair", form, origin=f"https://{address}:{port}")
        assert status == 303
        assert headers["set-cookie"].startswith("__Host-device=")
        assert asked(device, "GET", "/", cookie=headers["set-cookie"].split(";")[0])[0] == 200
        plain = http.client.HTTPConnection(address, port, timeout=20)
        with pytest.raises((http.client.HTTPException, ConnectionError)):
            asked(plain, "GET", "/pair")


def test_a_certificate_that_cannot_be_used_opens_nothing(tmp_path: Path) -> None:
    """With a bad certificate the shop is not opened, and one line says why."""
    command = [sys.executable, "-m", "axlewright", "serve", "--shop", "--port", "0", "--no-browser", "--data"]
    options = [str(tmp_path / "d"), "--certificate", str(tmp_path / "none"), "--key", str(tmp_path / "none")]
    done = subprocess.run([*command, *options], capture_output=True, text=True, timeout=60)
    assert done.returncode != 0
    assert "cannot be read" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "d").exists()


def test_a_certificate_without_the_shop(tmp_path: Path) -> None:
    """A certificate without --shop is a slip that is told of."""
    command = serve_command(tmp_path)
    done = subprocess.run([*command, "--certificate", "x"], capture_output=True, text=True, timeout=60)
    assert done.returncode != 0
    assert "--shop" in done.stderr
