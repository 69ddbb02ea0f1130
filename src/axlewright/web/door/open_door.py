"""What the door knows while the shop is open to the local network."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from axlewright.web.door.codes import Codes
from axlewright.web.door.devices import Devices


@dataclass(frozen=True)
class OpenDoor:
    """The door of a shop that is open to the local network.

    Args:
        devices: who was paired.
        codes: what pairs.
        addresses: where other devices find the shop, the best one first, e.g. "http://192.168.1.5:8090".
        secure: whether it is served by HTTPS.
        names: by which it may be asked, without port.
    """

    devices: Devices
    codes: Codes
    addresses: tuple[str, ...] = ()
    secure: bool = False
    names: frozenset[str] = field(default_factory=frozenset)


def open_door(
    data: Path,
    addresses: tuple[str, ...] = (),
    secure: bool = False,
    names: frozenset[str] = frozenset(),
    now: Callable[[], datetime] = lambda: datetime.now(UTC),
) -> OpenDoor:
    """The door of a shop whose data are in a folder.

    Args:
        data: folder of the shop's data.
        addresses: where other devices find the shop.
        secure: whether it is served by HTTPS.
        names: by which it may be asked, without port.
        now: the clock.
    """
    return OpenDoor(Devices(data, now), Codes(now), addresses, secure, names)
