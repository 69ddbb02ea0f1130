"""What the pages of straightness show: readings to type, the axis before and after, corrections in their place."""
