"""The shop's own certificate: used where it can be, refused in plain words where not."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

from axlewright.errors import OptionError
from axlewright.web.door.addresses import own_addresses, own_names
from axlewright.web.door.certificate import certificate_of
from axlewright.web.door.opening import opened, opening_words

needs_openssl = pytest.mark.skipif(shutil.which("openssl") is None, reason="openssl is not installed")


def made(
    folder: Path, *more: str, names: str = "DNS:localhost,DNS:bench.example,IP:127.0.0.1"
) -> tuple[Path, Path]:
    """A certificate that signed itself, and its key."""
    folder.mkdir(parents=True, exist_ok=True)
    file, key = folder / "shop.pem", folder / "shop.key"
    kind = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-subj", "/CN=shop"]
    files = ["-keyout", str(key), "-out", str(file), *(more or ("-days", "30"))]
    command = ["openssl", "req", "-x509", *kind, "-addext", f"subjectAltName={names}", *files]
    subprocess.run(command, check=True, capture_output=True)
    return file, key


def signed_for(file: Path, key: Path, begins: str, ends: str) -> None:
    """Sign a certificate anew for other dates; not every openssl does that in one go."""
    folder = file.parent
    (folder / "index.txt").touch()
    rules = f"""[ca]
default_ca = own
[own]
database = {folder / "index.txt"}
new_certs_dir = {folder}
rand_serial = yes
default_md = sha256
policy = any
[any]
commonName = supplied
"""
    (folder / "rules").write_text(rules, encoding="utf-8")
    asks = ["openssl", "req", "-new", "-key", str(key), "-subj", "/CN=shop", "-out", str(folder / "asks")]
    subprocess.run(asks, check=True, capture_output=True)
    signs = [
        "openssl",
        "ca",
        "-batch",
        "-selfsign",
        "-rand_serial",
        "-notext",
        "-config",
        str(folder / "rules"),
    ]
    files = ["-in", str(folder / "asks"), "-keyfile", str(key), "-out", str(file)]
    subprocess.run([*signs, *files, "-startdate", begins, "-enddate", ends], check=True, capture_output=True)


@needs_openssl
def test_names_are_read(tmp_path: Path) -> None:
    """The names and addresses a certificate stands for are known, so that devices are led to one of them."""
    certificate = certificate_of(*made(tmp_path))
    assert certificate is not None
    assert certificate.names == ("localhost", "bench.example", "127.0.0.1")


@needs_openssl
def test_devices_are_led_to_a_name_of_the_certificate(tmp_path: Path) -> None:
    """The first address is by HTTPS and one that the certificate stands for; the shop answers to it."""
    door = opened(tmp_path, 8090, certificate_of(*made(tmp_path)))
    assert door.secure
    assert door.addresses[0] == "https://bench.example:8090"
    assert "bench.example" in door.names
    words = opening_words(door, "https://localhost:8090")
    assert "https://bench.example:8090" in words
    assert "Plain HTTP" not in words


def test_plain_http_says_what_it_does_not_protect(tmp_path: Path) -> None:
    """Without a certificate it is said that others on the network can read and change what is sent."""
    words = opening_words(opened(tmp_path, 8090, None), "http://localhost:8090")
    assert "can read and change all" in words
    assert "proves that a device is paired" in words
    assert "http://localhost:8090/devices" in words


def test_a_damaged_file_is_told_of_at_the_start(tmp_path: Path) -> None:
    """Where the devices' file is damaged it is said when the shop opens."""
    (tmp_path / "devices.json").write_text("{", encoding="utf-8")
    assert "is damaged" in opening_words(opened(tmp_path, 8090, None), "http://localhost:8090")


def test_nothing_given_is_no_certificate() -> None:
    """Without the two options there is none."""
    assert certificate_of(None, None) is None


def test_one_without_the_other(tmp_path: Path) -> None:
    """A certificate without its key, or a key alone, is refused."""
    with pytest.raises(OptionError, match="key: is needed"):
        certificate_of(tmp_path / "a", None)
    with pytest.raises(OptionError, match="certificate: is needed"):
        certificate_of(None, tmp_path / "a")


def test_files_that_are_not_there(tmp_path: Path) -> None:
    """A file that is not there, or a folder, is told of by its path."""
    with pytest.raises(OptionError, match="cannot be read"):
        certificate_of(tmp_path / "none.pem", tmp_path / "none.key")
    with pytest.raises(OptionError, match="cannot be read"):
        certificate_of(tmp_path, tmp_path)


@needs_openssl
@pytest.mark.parametrize("which", ["certificate", "key"])
@pytest.mark.parametrize(
    "content", ["", "nothing of the kind", "-----BEGIN CERTIFICATE-----\nAA\n-----END CERTIFICATE-----\n"]
)
def test_files_that_are_something_else(tmp_path: Path, which: str, content: str) -> None:
    """A file that holds no certificate or key is refused in words, and the manual named."""
    file, key = made(tmp_path)
    (file if which == "certificate" else key).write_text(content, encoding="utf-8")
    with pytest.raises(OptionError, match="PEM") as refused:
        certificate_of(file, key)
    assert "docs/door.md" in str(refused.value)


@needs_openssl
def test_a_key_of_another_certificate(tmp_path: Path) -> None:
    """A key that does not belong to the certificate is refused."""
    file, _ = made(tmp_path / "one")
    _, key = made(tmp_path / "two")
    with pytest.raises(OptionError, match="its own key"):
        certificate_of(file, key)


@needs_openssl
def test_a_key_with_a_password(tmp_path: Path) -> None:
    """A key with a password is refused; nothing waits at a terminal for one."""
    file, key = made(tmp_path)
    locked = tmp_path / "locked.key"
    command = ["openssl", "pkey", "-in", str(key), "-aes256", "-passout", "pass:none", "-out", str(locked)]
    subprocess.run(command, check=True, capture_output=True)
    with pytest.raises(OptionError, match="without a password"):
        certificate_of(file, locked)


@needs_openssl
@pytest.mark.parametrize(
    ("begins", "ends", "says"),
    [
        ("20200101000000Z", "20210101000000Z", "has run out"),
        ("20900101000000Z", "20910101000000Z", "not valid yet"),
    ],
)
def test_a_certificate_out_of_its_time(tmp_path: Path, begins: str, ends: str, says: str) -> None:
    """A certificate that has run out, or is not valid yet, is refused before any device meets it."""
    file, key = made(tmp_path)
    signed_for(file, key, begins, ends)
    with pytest.raises(OptionError, match=says):
        certificate_of(file, key)


def test_own_names_and_addresses_can_be_asked() -> None:
    """The names are small letters with and without ".local"; no address is this machine's own loopback."""
    names = own_names()
    assert all(name == name.lower() and name for name in names)
    assert any(name.endswith(".local") for name in names)
    assert not any(address.startswith(("127.", "[::1]", "[fe80")) for address in own_addresses())
    assert os.sep not in "".join(names)
