"""What brings a housing back: counter-beads, heat lines, press sets, and when to stop."""
