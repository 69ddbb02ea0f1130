"""Orders of work: common practice and better."""
