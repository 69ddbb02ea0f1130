"""Drawings and printed sheets."""
