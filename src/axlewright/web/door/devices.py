"""The devices that were paired, kept in one small file of the data folder.

A file of its own and not the record: it belongs to this machine, not to a job, and neither an archive nor a backup of
the record may carry it elsewhere. Of a device's token only the SHA-256 is kept; it is 256 random bits, so that no salt
is needed. Taking the file away ends all devices.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import logging
import os
import secrets
import tempfile
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

FILE = "devices.json"
FORMAT = 1
TOKEN_BYTES = 32
LONGEST_NAME = 60
MOST = 100
"""Devices a shop can have."""

NOTED_EVERY = timedelta(minutes=1)
"""How exactly it is kept when a device was last seen."""

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Device:
    """A paired device.

    Args:
        id: what the pages call it by; no secret.
        name: as it was given when it was paired.
        token_sha256: of its token, in hexadecimal digits.
        first_seen: when it was paired.
        last_seen: when it last asked for something, to a minute.
    """

    id: str
    name: str
    token_sha256: str
    first_seen: datetime
    last_seen: datetime


class Devices:
    """The paired devices of a shop.

    Args:
        data: folder of the shop's data.
        now: the clock.
    """

    def __init__(self, data: Path, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self.file = data / FILE
        self._now = now
        self._lock = threading.RLock()
        self._stamp: tuple[int, int, int] | None = None
        self._known: tuple[Device, ...] = ()
        self._damaged = False

    @property
    def damaged(self) -> bool:
        """Whether the file is there and cannot be understood; then nobody is paired."""
        self.all()
        return self._damaged

    def all(self) -> tuple[Device, ...]:
        """Every paired device, the first paired first; read anew where the file was changed."""
        with self._lock:
            stamp = self._stamp_now()
            if stamp != self._stamp or stamp is None:
                self._known, self._damaged = _read(self.file)
                self._stamp = stamp
            return self._known

    def pair(self, name: str) -> str:
        """Pair a device and return its token, which is kept nowhere here.

        Raises:
            OSError: the file cannot be written; then nothing was paired.
        """
        token = secrets.token_urlsafe(TOKEN_BYTES)
        called = " ".join("".join(c for c in name if c.isprintable()).split())[:LONGEST_NAME] or "no name"
        with self._lock:
            now = self._now()
            known = self.all()
            if self._damaged:
                self._put_aside()
            new = Device(secrets.token_hex(6), called, _digest(token), now, now)
            # Where there are too many, the one that was not seen for longest makes room.
            stay = sorted(known, key=lambda device: device.last_seen, reverse=True)[: MOST - 1]
            self._write((*(device for device in known if device in stay), new))
        return token

    def of_token(self, token: str) -> Device | None:
        """The device that has a token, or none; every device's digest is compared, in constant time."""
        digest, found = _digest(token), None
        for device in self.all():
            if hmac.compare_digest(device.token_sha256, digest):
                found = device
        return found

    def knows(self, device: Device) -> bool:
        """Whether a device is still paired."""
        return any(each.id == device.id for each in self.all())

    def note_seen(self, device: Device) -> None:
        """Keep that a device asked for something; nothing fails where that cannot be written."""
        now = self._now()
        if now - device.last_seen < NOTED_EVERY:
            return
        with self._lock:
            seen = (replace(each, last_seen=now) if each.id == device.id else each for each in self.all())
            try:
                self._write(tuple(seen))
            except OSError as error:
                log.warning("When devices were last seen cannot be kept: %s", error.strerror)

    def end(self, id: str) -> bool:
        """End a device; whether there was one.

        Raises:
            OSError: the file cannot be written; the device is still paired.
        """
        with self._lock:
            known = self.all()
            stay = tuple(device for device in known if device.id != id)
            if len(stay) < len(known):
                self._write(stay)
        return len(stay) < len(known)

    def _stamp_now(self) -> tuple[int, int, int] | None:
        try:
            found = self.file.stat()
        except OSError:
            return None
        return found.st_mtime_ns, found.st_size, found.st_ino

    def _write(self, devices: tuple[Device, ...]) -> None:
        """Write the file whole or not at all; only the user who runs the shop may read it."""
        self.file.parent.mkdir(parents=True, exist_ok=True)
        told = {"format": FORMAT, "devices": [asdict(device) for device in devices]}
        # A file made so is for its owner alone where the system knows such rights.
        handle, unfinished = tempfile.mkstemp(prefix="devices-", suffix=".part", dir=self.file.parent)
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump(told, file, indent=1, default=datetime.isoformat)
                file.flush()
                os.fsync(file.fileno())
            os.replace(unfinished, self.file)
        except BaseException:
            with suppress(OSError):
                os.unlink(unfinished)
            raise
        self._known, self._damaged, self._stamp = devices, False, self._stamp_now()

    def _put_aside(self) -> None:
        os.replace(self.file, self.file.with_name("devices-damaged.json"))


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def _read(file: Path) -> tuple[tuple[Device, ...], bool]:
    """The devices in a file, and whether it is damaged. One wrong entry makes all of it untrusted."""
    try:
        told = json.loads(file.read_text(encoding="utf-8"))
        if told["format"] != FORMAT:
            raise ValueError(told["format"])
        return tuple(_device(each) for each in told["devices"]), False
    except FileNotFoundError:
        return (), False
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return (), True


def _device(told: dict[str, Any]) -> Device:
    id, name, digest = (told[key] for key in ("id", "name", "token_sha256"))
    first, last = (datetime.fromisoformat(told[key]) for key in ("first_seen", "last_seen"))
    if not (isinstance(id, str) and isinstance(name, str) and first.tzinfo and last.tzinfo):
        raise ValueError("not a device")
    if len(bytes.fromhex(digest)) != hashlib.sha256().digest_size:
        raise ValueError("not a digest")
    return Device(id, name, digest.lower(), first, last)
