"""The job record: everything told about a job, in the order it was told, never overwritten."""
