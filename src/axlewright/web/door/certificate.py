"""The shop's own certificate: whether it can be used, and for which names it stands."""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from axlewright.errors import Fault, OptionError

MADE_SO = "docs/door.md says how one is made."


@dataclass(frozen=True)
class Certificate:
    """A certificate that can be served with.

    Args:
        file: the certificate, and those it was signed by, as PEM.
        key: its private key without a password, as PEM.
        names: names and addresses it stands for; empty where they cannot be told.
    """

    file: Path
    key: Path
    names: tuple[str, ...]


def certificate_of(file: Path | None, key: Path | None) -> Certificate | None:
    """The certificate of two options; none where neither is given.

    Raises:
        OptionError: one is missing or cannot be read, they do not belong together, or the certificate has run out.
    """
    if file is None and key is None:
        return None
    if file is None or key is None:
        missing = "certificate" if file is None else "key"
        both = "Give both: --certificate FILE --key FILE"
        raise OptionError(Fault(missing, "", "is needed beside the other of the two", both))
    for what, path in (("certificate", file), ("key", key)):
        _readable(what, path)
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    try:
        # Without this, a key with a password would be asked for at the terminal.
        server.load_cert_chain(file, key, password=_no_password)
    except (ssl.SSLError, ValueError, OSError) as error:
        allowed = (
            f"must be a certificate and its own key, both PEM, the key without a password ({_words(error)})"
        )
        raise OptionError(Fault("certificate", f"{file} with {key}", allowed, MADE_SO)) from error
    return Certificate(file, key, _names(server, file))


def _readable(what: str, path: Path) -> None:
    try:
        with path.open("rb") as opened:
            opened.read(1)
    except OSError as error:
        raise OptionError(
            Fault(what, str(path), f"cannot be read ({error.strerror})", "Give the path of the file.")
        ) from error


def _no_password() -> str:
    raise ValueError("the key has a password")


def _words(error: Exception) -> str:
    reason = getattr(error, "reason", None)
    return str(reason).replace("_", " ").lower() if reason else str(error)


def _names(server: ssl.SSLContext, file: Path) -> tuple[str, ...]:
    """Names in a certificate, from greeting ourselves with it: that also checks its dates.

    Raises:
        OptionError: it has run out or is not valid yet.
    """
    client = ssl.create_default_context(cafile=str(file))
    client.check_hostname = False
    # The certificate itself is trusted here, whoever signed it, and its form is left to the browsers.
    client.verify_flags = ssl.VerifyFlags.VERIFY_X509_PARTIAL_CHAIN
    try:
        told: Any = _greeted(server, client)
    except ssl.SSLCertVerificationError as error:
        if error.verify_code in (9, 10):
            when = "is not valid yet" if error.verify_code == 9 else "has run out"
            remedy = "Look at this computer's date; else make a new one. " + MADE_SO
            raise OptionError(Fault("certificate", str(file), when, remedy)) from error
        return ()
    except ssl.SSLError:
        return ()
    return tuple(name for kind, name in told.get("subjectAltName", ()) if kind in ("DNS", "IP Address"))


def _greeted(server: ssl.SSLContext, client: ssl.SSLContext) -> Any:
    """What a client reads in the server's certificate; the two talk in memory."""
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    asks = client.wrap_bio(to_client, to_server)
    answers = server.wrap_bio(to_server, to_client, server_side=True)
    for _ in range(4):
        for side in (asks, answers):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue
    return asks.getpeercert()
