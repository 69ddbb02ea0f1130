"""Drawings that show where a dimension is measured: plain SVG, to scale, made anew in milliseconds as it is typed."""
