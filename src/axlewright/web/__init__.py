"""The shop's pages: routes only turn a request into one call of `tasks`, and its answer into a page."""
