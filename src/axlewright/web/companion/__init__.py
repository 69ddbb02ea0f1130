"""The companion at the bench: a process for each job being welded, kept warm, that answers every tap."""
