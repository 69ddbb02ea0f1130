"""Hexahedral elements, assembly, factorisation and interpolation; knows no welding."""
