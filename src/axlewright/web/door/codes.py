"""Pairing codes: short enough to be typed with gloves on, alive for ten minutes and one device, guessed at only slowly.

A code has 8 of 32 characters, 40 random bits: 1.1e12 codes. With five tries a minute and waits that double up to an
hour, all tries of a day are fewer than 200: a chance of 2e-10.
"""

from __future__ import annotations

import hmac
import secrets
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Without I, L, O and U; who reads 0 as O or 1 as I is understood."""

READ_AS = str.maketrans({"O": "0", "I": "1", "L": "1", " ": None, "-": None, "\t": None})
LENGTH = 8
ALIVE = timedelta(minutes=10)
TRIES = 5
"""Wrong tries in `WINDOW`, of all devices together, before nobody is let try for a while."""

WINDOW = timedelta(minutes=1)
FIRST_WAIT = timedelta(minutes=1)
LONGEST_WAIT = timedelta(hours=1)
SHOWN = 20
"""Wrong tries that are shown."""


@dataclass(frozen=True)
class Code:
    """A pairing code.

    Args:
        text: its 8 characters.
        made: when it was made.
    """

    text: str
    made: datetime

    @property
    def shown(self) -> str:
        """In two halves: "K7QM-2XRT"."""
        return f"{self.text[:4]}-{self.text[4:]}"

    @property
    def ends(self) -> datetime:
        """When it no longer pairs anything."""
        return self.made + ALIVE


@dataclass(frozen=True)
class WrongTry:
    """A code that paired nothing.

    Args:
        at: when.
        address: of the device that sent it.
    """

    at: datetime
    address: str


class Codes:
    """The one code that is alive, and the tries at it. Kept in memory only: a shop opened anew has none.

    Args:
        now: the clock.
    """

    def __init__(self, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self.now = now
        self._lock = threading.Lock()
        self._code: Code | None = None
        self._recent: deque[datetime] = deque(maxlen=TRIES)
        self._waits = 0
        self._until: datetime | None = None
        self.wrong: deque[WrongTry] = deque(maxlen=SHOWN)
        self.wrong_count = 0

    def fresh(self) -> Code:
        """A new code; the one before it no longer pairs anything. The tries at it go on counting."""
        with self._lock:
            self._code = Code("".join(secrets.choice(ALPHABET) for _ in range(LENGTH)), self.now())
            return self._code

    def alive(self) -> Code | None:
        """The code that pairs a device now, if there is one."""
        code, now = self._code, self.now()
        # A clock that was put back must not make a code live longer.
        return code if code and code.made <= now < code.ends else None

    def wait(self) -> timedelta:
        """How long nobody is let try from now on; zero where a try is let."""
        return max((self._until or self.now()) - self.now(), timedelta())

    def try_code(self, typed: str, address: str) -> bool:
        """Whether a typed code is the one alive; it is used up by that. A try during a wait is never looked at.

        Args:
            typed: as it was typed: small letters, spaces, O for 0 do no harm.
            address: of the device that sent it, to be shown where it was wrong.
        """
        with self._lock:
            if self.wait():
                return False
            alive = self.alive()
            right = hmac.compare_digest(_read(typed), (alive.text if alive else "-" * LENGTH).encode())
            if right and alive:
                self._code, self._waits, self._until = None, 0, None
                self._recent.clear()
                return True
            self._count(address)
            return False

    def _count(self, address: str) -> None:
        now = self.now()
        self.wrong.appendleft(WrongTry(now, address))
        self.wrong_count += 1
        self._recent.append(now)
        if len(self._recent) == TRIES and now - self._recent[0] < WINDOW:
            self._until = now + min(FIRST_WAIT * 2**self._waits, LONGEST_WAIT)
            self._waits = min(self._waits + 1, 10)
            self._recent.clear()


def _read(typed: str) -> bytes:
    return typed[:40].upper().translate(READ_AS).encode("utf-8", "replace")
