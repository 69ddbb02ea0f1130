"""Hand formulas of welding, each with its source."""
