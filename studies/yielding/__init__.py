"""Does the ranking of plans survive when tacks and beads yield? See README.md here and docs/theory/yielding.md."""
