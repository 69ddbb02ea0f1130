"""The search for plans: none of those it returns beats another on everything that counts."""
