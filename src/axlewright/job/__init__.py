"""What the shop knows: the job file, read, checked and written."""
