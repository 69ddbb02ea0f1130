"""An address as a QR code."""

from __future__ import annotations

import segno


def qr_svg(address: str) -> str:
    """A drawing (SVG, to stand within a page) of an address, with the quiet zone of 4 modules that readers need.

    Always dark on white, also on a dark page: many readers know nothing else.
    """
    drawn = segno.make(address, error="m", micro=False)
    return drawn.svg_inline(
        scale=8, border=4, dark="#000", light="#fff", svgclass="qr", lineclass=None, omitsize=True
    )
