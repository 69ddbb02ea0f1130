"""The file in which a shop keeps its results: plain text, which can be read, mended, copied and handed on.

It holds the results themselves; what they teach is worked out anew each time and stands at the top as a comment.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from platformdirs import user_data_path

from axlewright.errors import Fault, ShopFileError
from axlewright.file_text import utf8_text
from axlewright.shop.evidence import Evidence
from axlewright.shop.factors import ShopFactors
from axlewright.shop.posterior import Learned, learn
from axlewright.shop.shop_text import parse_shop, shop_text
from axlewright.units import show

LARGEST_FILE = 5_000_000
"""Size in bytes above which a file is not even parsed; a result takes about two thousand."""


@dataclass(frozen=True)
class Shop:
    """A shop's results.

    Args:
        evidence: the results, in the order they were added.
        source: name of the file, or "".
    """

    evidence: tuple[Evidence, ...] = ()
    source: str = ""

    @cached_property
    def learned(self) -> Learned:
        """What they teach."""
        return learn(self.evidence, self.source)

    @property
    def factors(self) -> ShopFactors:
        """What is known of the shop's next job."""
        return self.learned.factors

    def with_result(self, result: Evidence) -> Shop:
        """The shop with one more result.

        Raises:
            ShopFileError: there is one of that name already.
        """
        if result.name in self.names:
            allowed = "the shop file has a result of that name"
            remedy = "Give it another name, or remove the old one first."
            raise ShopFileError(Fault("name", show(result.name), allowed, remedy))
        return replace(self, evidence=(*self.evidence, result))

    def without_result(self, name: str) -> Shop:
        """The shop without the result of a name.

        Raises:
            ShopFileError: there is none of that name.
        """
        if name not in self.names:
            there = ", ".join(map(show, self.names)) or "none"
            raise ShopFileError(
                Fault("name", show(name), f"must be one of the shop's results: {there}", "Check it.")
            )
        return replace(self, evidence=tuple(one for one in self.evidence if one.name != name))

    def with_all(self, results: Iterable[Evidence]) -> Shop:
        """The shop with more results, such as those of another file; the same result twice counts once.

        Raises:
            ShopFileError: a name stands for different results.
        """
        shop = self
        for result in results:
            if result not in shop.evidence:
                shop = shop.with_result(result)
        return shop

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the results."""
        return tuple(one.name for one in self.evidence)

    @property
    def text(self) -> str:
        """The shop as the text of a shop file."""
        return shop_text(self.evidence, self.learned)


def shop_path() -> Path:
    """Where the shop's results are kept: AXLEWRIGHT_SHOP if set, else the user's own data folder."""
    chosen = os.environ.get("AXLEWRIGHT_SHOP")
    return Path(chosen) if chosen else user_data_path("axlewright") / "shop.toml"


def read_shop(path: str | os.PathLike[str]) -> Shop:
    """The shop in a file; one without results where there is no file.

    Raises:
        ShopFileError: the file cannot be read, or is no shop file.
    """
    try:
        with Path(path).open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        return Shop((), str(path))
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise ShopFileError(
            Fault(show(str(path)), "unreadable", reason, "Check the name and the rights.")
        ) from error
    if len(data) > LARGEST_FILE:
        fault = Fault(str(path), "larger than 5 MB", "a shop file is a few pages", "Check that it is one.")
        raise ShopFileError(fault)
    text = utf8_text(data, str(path), ShopFileError, "a shop file")
    return Shop(parse_shop(text, str(path)), str(path))


def write_shop(shop: Shop, path: str | os.PathLike[str]) -> Path:
    """Write a shop file: whole to a neighbour first, which then takes the place of the old one.

    What is on the disk is read back before the old file is given up.

    Raises:
        ShopFileError: it cannot be written; the old file is as it was.
    """
    target = Path(path)
    text = shop.text
    if parse_shop(text, str(path)) != shop.evidence:
        fault = Fault(
            str(path), "", "the results would not read back as they are", "Give names in plain letters."
        )
        raise ShopFileError(fault)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        _replace(target, text)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        remedy = "Make room and allow writing there, or name another file. The old one is as it was."
        raise ShopFileError(Fault(show(str(path)), "not written", reason, remedy)) from error
    return target


def _replace(target: Path, text: str) -> None:
    handle, name = tempfile.mkstemp(prefix=f"{target.name}.", suffix=".new", dir=target.parent)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        Path(name).replace(target)
    except BaseException:
        with suppress(OSError):
            Path(name).unlink()
        raise


def reset_shop(path: str | os.PathLike[str]) -> Path | None:
    """Begin anew: the old file is kept beside as shop.toml.old (.old2 and so on); None where there was no file.

    Raises:
        ShopFileError: the file cannot be moved; it is as it was.
    """
    target = Path(path)
    if not target.exists():
        return None
    number = 1
    while (kept := target.with_name(f"{target.name}.old{number if number > 1 else ''}")).exists():
        number += 1
    try:
        return target.rename(kept)
    except OSError as error:
        reason = error.strerror or str(error)
        raise ShopFileError(Fault(show(str(path)), "not moved", reason, "Check the rights.")) from error
