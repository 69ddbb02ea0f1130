"""Studies that back a choice in the package; not installed with it."""
