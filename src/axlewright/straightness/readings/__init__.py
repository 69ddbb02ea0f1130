"""What was read off the housing with tape, straightedge, dial, string or angle finder, from file to figures."""
