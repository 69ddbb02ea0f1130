"""What is listened at: this machine alone, or all networks it is in."""

from __future__ import annotations

import errno
import socket
from contextlib import ExitStack, suppress

from axlewright.errors import Fault, OptionError

THIS_MACHINE_ONLY = "127.0.0.1"
ALL_IPV4, ALL_IPV6 = "0.0.0.0", "::"


def listening_at(port: int, address: str = THIS_MACHINE_ONLY) -> socket.socket:
    """A socket that listens at a port, 0 for any free one; of this machine alone unless another address is given.

    Raises:
        OptionError: the port cannot be had.
    """
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    # With the protocol named, the event loop sends small answers at once; without it each waits some 40 ms.
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        # A shop closed a moment ago does not hold its port; on Windows the option would let two hold one.
        if not hasattr(socket, "SO_EXCLUSIVEADDRUSE"):
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        if family == socket.AF_INET6:
            # IPv4 has a socket of its own: its addresses then come as what they are.
            listening.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)
        listening.bind((address, port))
        listening.listen(128)
    except (OSError, OverflowError) as error:
        listening.close()
        raise OptionError(_not_to_be_had(port, error)) from error
    return listening


def listening_for_all(port: int, stack: ExitStack) -> list[socket.socket]:
    """Sockets that listen at a port for all networks this machine is in: IPv4, and IPv6 where there is any.

    Args:
        port: port to listen at; 0 takes any free one.
        stack: closes them.

    Raises:
        OptionError: the port cannot be had.
    """
    first = stack.enter_context(listening_at(port, ALL_IPV4))
    sockets = [first]
    if socket.has_ipv6:
        with suppress(OptionError, OSError):
            sockets.append(stack.enter_context(listening_at(first.getsockname()[1], ALL_IPV6)))
    return sockets


def _not_to_be_had(port: int, error: Exception) -> Fault:
    if isinstance(error, OSError) and error.errno == errno.EADDRINUSE:
        remedy = (
            f"Perhaps the shop is open already: look at http://localhost:{port}. "
            f"Else close the other program, or take another port: --port {port + 1}"
        )
        return Fault("port", str(port), "is taken by another program", remedy)
    words = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return Fault("port", str(port), f"cannot be listened at ({words})", "Take another: --port 8100")
