"""Photographs of a job: made small enough to keep, turned the right way up, and rid of everything but the picture."""

from __future__ import annotations

import io
import warnings

from PIL import Image, ImageOps, UnidentifiedImageError

from axlewright.errors import Fault, RecordError
from axlewright.record.events import Document, Event
from axlewright.record.store import Store
from axlewright.tasks.telling import Telling

LARGEST_FILE = 20_000_000
"""Largest file that is taken [bytes]."""

LONGEST_SIDE = 2400
"""Longest side of a picture as it is kept [pixels]: enough to see a crack, little enough to keep hundreds."""

MOST_PIXELS = 120_000_000
"""Largest picture that is opened at all [pixels]; a small file can unpack to more than a memory holds."""

QUALITY = 85
NAME = "photograph.jpg"
OPENED = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF")
"""Formats that are opened, by what is in the file; its name and what the browser says of it do not count."""


def add_photograph(
    store: Store, job: str, data: bytes, words: str, stage: str | None, telling: Telling
) -> Event:
    """Put a photograph into the record.

    Args:
        store: the record.
        job: the job it is of.
        data: the file as it was taken.
        words: what it shows.
        stage: the stage it belongs to, if any.
        telling: who puts it in.

    Raises:
        RecordError: it is no picture, or too large; or it cannot be written down.
    """
    picture = Document(NAME, "image/jpeg", plain_picture(data))
    return store.append(job, telling.event("photograph", {"words": words, "stage": stage}, (picture,)))


def plain_picture(data: bytes) -> bytes:
    """A picture as it is kept: JPEG, turned as it was held, at most 2,400 pixels long, and nothing else in the file.

    Where it was taken, when and by which device lies beside the picture in the file, and is left behind.

    Raises:
        RecordError: it is no picture, or too large.
    """
    if len(data) > LARGEST_FILE:
        raise _refused(f"{len(data) / 1e6:.0f} MB", f"must have at most {LARGEST_FILE // 1_000_000} MB")
    try:
        with warnings.catch_warnings():
            # Our own limit is lower than the one that Pillow warns of.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(data), formats=OPENED) as opened:
                return _kept(opened)
    except UnidentifiedImageError as error:
        raise _refused("", "is no picture that can be opened (JPEG, PNG, WebP, TIFF, BMP or GIF)") from error
    except Image.DecompressionBombError as error:
        raise _too_many() from error
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError) as error:
        raise _refused("", "is damaged, or not whole") from error


def _kept(opened: Image.Image) -> bytes:
    if opened.width * opened.height > MOST_PIXELS:
        raise _too_many()
    # Draft lets the JPEG decoder leave out pixels that would be thrown away anyway.
    opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    upright = ImageOps.exif_transpose(opened)
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    ground = Image.new("RGB", upright.size, "white")
    if "transparency" in upright.info or upright.mode in ("RGBA", "LA", "PA"):
        clear = upright.convert("RGBA")
        ground.paste(clear, mask=clear.getchannel("A"))
    else:
        ground.paste(upright.convert("RGB"))
    out = io.BytesIO()
    # A new picture: nothing of what lay beside the old one comes along.
    ground.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return out.getvalue()


def _too_many() -> RecordError:
    return _refused("", f"must have at most {MOST_PIXELS // 1_000_000} million pixels")


def _refused(value: str, allowed: str) -> RecordError:
    return RecordError(Fault("photograph", value, allowed, "Take it again, or choose another file."))
