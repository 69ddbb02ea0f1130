"""From a log of what was really welded to the best way on from here."""
