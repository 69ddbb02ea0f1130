"""From shop dimensions to parts and seams."""
