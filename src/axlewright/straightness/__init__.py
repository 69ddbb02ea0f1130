"""Is the housing straight, what brings it back, and what its result teaches."""
