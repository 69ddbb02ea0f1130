"""Opening the door: for which names, at which addresses, and what is said of it."""

from __future__ import annotations

from pathlib import Path

from axlewright.web.door.addresses import own_addresses, own_names
from axlewright.web.door.certificate import Certificate
from axlewright.web.door.open_door import OpenDoor, open_door
from axlewright.web.door.telling import connection_words
from axlewright.web.guard import THIS_MACHINE


def opened(data: Path, port: int, certificate: Certificate | None) -> OpenDoor:
    """The door of a shop that is open to the local network.

    Args:
        data: folder of the shop's data.
        port: that it listens at.
        certificate: it is served with; none for plain HTTP.
    """
    own, names = own_addresses(), own_names()
    written = _in_certificate(certificate, names | set(own)) if certificate else ()
    scheme = "https" if certificate else "http"
    # Names that are in the certificate come first: any other makes a browser warn.
    hosts = dict.fromkeys((*written, *own))
    addresses = tuple(f"{scheme}://{host}:{port}" for host in hosts)
    return open_door(data, addresses, certificate is not None, names | set(own) | set(written))


def _in_certificate(certificate: Certificate, ours: set[str] | frozenset[str]) -> tuple[str, ...]:
    """Names of a certificate that other devices can ask by, those first that lead here for certain."""
    names = [f"[{name}]" if ":" in name else name.lower() for name in certificate.names]
    usable = [name for name in names if name not in THIS_MACHINE and not name.startswith("*")]
    return tuple(sorted(usable, key=lambda name: name not in ours))


def opening_words(door: OpenDoor, here: str) -> str:
    """What is said at the start.

    Args:
        door: the opened door.
        here: address of the shop on this machine.
    """
    found = "\n".join(f"  {address}" for address in door.addresses)
    lines = [f"Open to the local network:\n{found}" if found else "This machine is in no network just now."]
    lines.append(f"Pair a device: open {here}/devices on this computer.")
    if door.devices.damaged:
        lines.append(damaged_words(door))
    return "\n".join((*lines, *connection_words(door.secure)))


def damaged_words(door: OpenDoor) -> str:
    """What is said where the file of the devices is damaged."""
    return f"The file of the paired devices is damaged ({door.devices.file}): no device is paired. Pair them anew."
