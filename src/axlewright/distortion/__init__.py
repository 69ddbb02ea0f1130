"""Shape locked in bead by bead."""
