"""Under which addresses other devices of the network find this machine."""

from __future__ import annotations

import socket
from contextlib import suppress
from ipaddress import ip_address

TOWARDS = (
    (socket.AF_INET, "10.255.255.255"),
    (socket.AF_INET, "192.168.255.255"),
    (socket.AF_INET, "172.31.255.255"),
    (socket.AF_INET6, "fd00::1"),
    (socket.AF_INET6, "2001:db8::1"),
)
"""Addresses that a way is looked up for; nothing is sent there."""


def own_addresses() -> tuple[str, ...]:
    """This machine's addresses in the networks it is in, IPv4 first, IPv6 in brackets; none where it is in no network.

    Addresses that need the name of an interface beside them (fe80::) cannot be written in a browser and are left out.
    """
    found = [*(_on_the_way(family, towards) for family, towards in TOWARDS), *_by_name()]
    usable = dict.fromkeys(each for each in found if each and _usable(each))
    return tuple(sorted((_in_brackets(each) for each in usable), key=lambda each: each.startswith("[")))


def own_names() -> frozenset[str]:
    """Names this machine has in its network."""
    name = socket.gethostname().lower().rstrip(".")
    short = name.partition(".")[0]
    return frozenset({name, short, f"{short}.local"} - {"", ".local"})


def _on_the_way(family: int, towards: str) -> str:
    with suppress(OSError), socket.socket(family, socket.SOCK_DGRAM) as asking:
        asking.connect((towards, 9))
        return str(asking.getsockname()[0])
    return ""


def _by_name() -> list[str]:
    with suppress(OSError):
        return [str(found[4][0]) for found in socket.getaddrinfo(socket.gethostname(), None)]
    return []


def _usable(address: str) -> bool:
    read = ip_address(address.partition("%")[0])
    return not (read.is_loopback or read.is_unspecified or (read.version == 6 and read.is_link_local))


def _in_brackets(address: str) -> str:
    return f"[{address}]" if ":" in address else address
