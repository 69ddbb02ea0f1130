"""What is said of how far the connection to other devices can be trusted; the same at the start and on the page."""

from __future__ import annotations

PLAIN = (
    "Plain HTTP: whoever is on the same network can read and change all that goes between the devices and this "
    "computer, also what proves that a device is paired, and can then do all that the device can. "
    "Use a network of the shop's own, or start with --certificate and --key."
)
SECURE = (
    "HTTPS: nobody between can read or change what is sent. It holds as long as the key stays on this computer, "
    "and only where a device shows no warning: one that was clicked away protects nothing."
)
PLAIN_LACKS = (
    "By plain HTTP the browsers of phones keep neither the screen awake nor the shell for when "
    "this computer does not answer."
)
NOT_PROTECTED = (
    "Either way, whoever uses this computer or holds a paired device unlocked can read and write all of the record. "
    "End a device that was lost."
)


def connection_words(secure: bool) -> tuple[str, ...]:
    """What the connection protects and what it does not, in whole sentences.

    Args:
        secure: whether it is HTTPS.
    """
    return (SECURE, NOT_PROTECTED) if secure else (PLAIN, PLAIN_LACKS, NOT_PROTECTED)
