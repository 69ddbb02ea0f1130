"""Angles as people write them: degrees, minutes of arc, or both."""

from __future__ import annotations

import re

from axlewright.errors import Fault, ReadingsError
from axlewright.units import ANGLE, show

_NUMBER = r"([0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_ANGLE = re.compile(
    rf"(?P<sign>[+−-]?)\s*(?:{_NUMBER}\s*(?:[°º]|deg\b\.?|degrees?)\s*)?"
    rf"(?:{_NUMBER}\s*(?:['′’´]|arc\s*min(?:utes?)?|min(?:utes?)?)\.?\s*)?"
    rf"(?:{_NUMBER}\s*(?:[\"″”]|''|arc\s*sec(?:onds?)?|sec(?:onds?)?)\.?\s*)?",
    re.IGNORECASE,
)
_BARE = re.compile(rf"(?P<sign>[+−-]?)\s*{_NUMBER}(?:[eE]([+-]?[0-9]{{1,2}}))?")
_SIGN_WORDS = re.compile(
    r"\s*(?:top|toe|camber|caster|toe-)?\s*\b(in|out|neg|negative|pos|positive)\b.*", re.I
)
_LONGEST = 60


def degrees_of(text: str) -> float:
    """Degrees of an angle such as "0.3", "25'", "0°25'", "25 arcmin", "0.3 deg"; a bare number is degrees.

    Args:
        text: what was written.

    Raises:
        ReadingsError: it is no angle.
    """
    plain = text.strip()
    if len(plain) <= _LONGEST and (match := _BARE.fullmatch(plain)):
        return _signed(match["sign"], float(match[2]) * 10.0 ** int(match[3] or 0))
    match = _ANGLE.fullmatch(plain) if len(plain) <= _LONGEST else None
    if match is None or (match[2] is None and match[3] is None):
        remedy = (
            'Write degrees as a plain number, 0.3, or minutes of arc with their mark: 25\' or "25 arcmin".'
        )
        raise ReadingsError(Fault("angle", show(text), "is no angle", remedy))
    degrees, minutes, seconds = (float(part or 0.0) for part in match.groups()[1:])
    if (match[2] and minutes >= 60.0) or seconds >= 60.0:
        remedy = "Carry what is over into the next larger unit."
        raise ReadingsError(Fault("angle", show(text), "minutes and seconds of arc stay below 60", remedy))
    return _signed(match["sign"], degrees + minutes / 60.0 + seconds / 3600.0)


def sign_word(text: str) -> str:
    """The word that stands for a sign behind a number, such as "out" in "0.3 out"; empty where there is none."""
    number = re.match(r"\s*[+−-]?\s*[0-9.,]*\s*(?:[°º]|deg|')?", text)
    rest = text[number.end() :] if number else text
    match = _SIGN_WORDS.fullmatch(rest)
    return match[1].casefold() if match else ""


def _signed(sign: str, degrees: float) -> float:
    value = round(-degrees if sign in ("-", "−") and sign else degrees, ANGLE.digits)
    return value + 0.0  # No negative nought.
