"""Photographs: taken in, made plain, and shown."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from fastapi.testclient import TestClient
from PIL import Image
from web.shop_made import MadeUp, picture

from axlewright.errors import RecordError
from axlewright.tasks import photographs
from axlewright.tasks.photographs import plain_picture

GPS, ORIENTATION, MAKER = 0x8825, 0x0112, 0x010F


def opened(data: bytes) -> Image.Image:
    """A picture from its file."""
    return Image.open(io.BytesIO(data))


def test_what_lies_beside_the_picture_is_left_behind() -> None:
    """Place, device and comment of the camera are not in the file that is kept."""
    exif = Image.Exif()
    exif[MAKER] = "a camera"
    exif.get_ifd(GPS)[2] = (47.0, 12.0, 5.0)
    out = io.BytesIO()
    Image.new("RGB", (40, 30)).save(out, "JPEG", exif=exif, comment=b"taken at home")
    assert b"a camera" in out.getvalue()
    kept = plain_picture(out.getvalue())
    assert b"a camera" not in kept
    assert b"taken at home" not in kept
    assert not dict(opened(kept).getexif())


def test_a_picture_is_turned_as_it_was_held() -> None:
    """The camera's note of how it was held is carried out on the picture."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    out = io.BytesIO()
    held = Image.new("RGB", (60, 30), "white")
    held.paste("black", (0, 0, 15, 30))
    held.save(out, "JPEG", exif=exif, quality=95)
    kept = opened(plain_picture(out.getvalue())).convert("L")
    assert kept.size == (30, 60)
    # Turned by a quarter clockwise: what was left is on top.
    assert kept.getpixel((15, 4)) < 60 < 200 < kept.getpixel((15, 50))


@pytest.mark.parametrize(
    ("size", "kept"), [((3000, 1500), (2400, 1200)), ((1000, 4800), (500, 2400)), ((80, 60), (80, 60))]
)
def test_a_picture_is_at_most_2400_pixels_long(size: tuple[int, int], kept: tuple[int, int]) -> None:
    """Larger pictures are made smaller in proportion, smaller ones are left."""
    assert opened(plain_picture(picture("JPEG", *size))).size == kept


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF"])
def test_usual_formats_are_kept_as_jpeg(kind: str) -> None:
    """Whatever it came as, a picture is kept as JPEG."""
    assert opened(plain_picture(picture(kind))).format == "JPEG"


def test_what_can_be_seen_through_gets_a_white_ground() -> None:
    """Where a picture is clear, paper shows, not black."""
    out = io.BytesIO()
    Image.new("RGBA", (20, 20), (0, 0, 0, 0)).save(out, "PNG")
    assert opened(plain_picture(out.getvalue())).getpixel((10, 10)) == (255, 255, 255)


def _bomb(width: int, height: int) -> bytes:
    """A PNG of some hundred bytes that says it has so many pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "no picture that can be opened"),
        (b"%PDF-1.4", "no picture that can be opened"),
        (b"", "no picture that can be opened"),
        (_bomb(30_000, 30_000), "million pixels"),
        (_bomb(13_000, 10_000), "million pixels"),
        (picture("JPEG")[:900], "damaged"),
        (picture("PNG")[:200], "damaged"),
    ],
    ids=["svg", "pdf", "empty", "bomb", "small bomb", "half a jpeg", "half a png"],
)
def test_what_is_no_picture_is_refused(data: bytes, says: str) -> None:
    """What is no picture by its content, cut off, or unpacks to too much is refused in words."""
    with pytest.raises(RecordError, match=says):
        plain_picture(data)


def test_large_files_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file larger than the limit is refused before it is opened."""
    monkeypatch.setattr(photographs, "LARGEST_FILE", 100)
    with pytest.raises(RecordError, match="at most"):
        plain_picture(picture())


def test_taking_a_photograph(client: TestClient, job: MadeUp) -> None:
    """A photograph is kept with its words and stage, shown with the words for those who cannot see it, and opens."""
    sent = {"words": 'Left "flange"', "stage": "strip", "key": "k"}
    for _ in range(2):
        answer = client.post(
            f"/jobs/{job.job}/photographs", data=sent, files={"picture": ("x.html", picture(), "text/html")}
        )
        assert answer.status_code == 303
    page = client.get(f"/jobs/{job.job}/photographs").text
    assert page.count("<figure>") == 1
    assert 'alt="Left &#34;flange&#34;"' in page
    shown = client.get(f"/jobs/{job.job}/documents/2/photograph.jpg")
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["content-security-policy"] == "default-src 'none'; sandbox"
    assert opened(shown.content).format == "JPEG"
    assert "strip" in client.get(f"/jobs/{job.job}/stages/strip").text


def test_a_refused_photograph_leaves_the_words(client: TestClient, job: MadeUp) -> None:
    """What is no picture is refused on the page, and the words need not be typed again."""
    sent = {"words": "Left flange"}
    answer = client.post(
        f"/jobs/{job.job}/photographs", data=sent, files={"picture": ("x.jpg", b"text", "image/jpeg")}
    )
    assert answer.status_code == 422
    assert "is no picture" in answer.text
    assert ">Left flange</textarea>" in answer.text
    assert "is missing" in client.post(f"/jobs/{job.job}/photographs", data=sent).text
    assert len(job.store.events(job.job)) == 1
