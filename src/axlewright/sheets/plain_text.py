"""Text that is safe to show and to print, whatever a job file holds."""

from __future__ import annotations

import unicodedata

# Joiners belong to the spelling of some scripts; every other unseen mark, such as one that turns the
# reading direction, is left out, because a job name must not reorder a sheet.
JOINERS = ("\u200c", "\u200d")
_LONGEST_WORD = 28


def clean(text: str) -> str:
    """The text on one line without control characters, halves of characters and unseen marks."""
    return " ".join("".join(_plain(mark) for mark in text).split())


def _plain(mark: str) -> str:
    """A blank for a control character, nothing for an unseen mark, "?" for what is no character at all."""
    category = unicodedata.category(mark)
    if category in ("Cc", "Zl", "Zp"):
        return " "
    if category == "Cf":
        return mark if mark in JOINERS else ""
    return "?" if category in ("Cs", "Cn", "Co") else mark


def breakable(text: str, longest: int = _LONGEST_WORD) -> str:
    """Clean text in which words of more than `longest` characters may be broken over lines."""
    return " ".join(_with_breaks(word, longest) for word in clean(text).split(" "))


def _with_breaks(word: str, longest: int) -> str:
    """A word with an invisible place to break after every `longest` characters."""
    return "\u200b".join(word[k : k + longest] for k in range(0, len(word), longest))
