"""What the shop's own results have taught: factors on shrinkage, heat and cooling, kept in a file of plain text."""
