"""What the weld page shows of a plan."""
