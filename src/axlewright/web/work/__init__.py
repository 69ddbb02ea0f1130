"""Long work (models, searches, drawings) in processes of its own, so that no page waits for it."""
