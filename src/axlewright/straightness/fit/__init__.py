"""From readings to the axis of the tubes: least squares, doubts, what to read next, and the verdict."""
