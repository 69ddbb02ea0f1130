"""A plan as its page shows it, from plan.json alone: nothing here is worked out anew."""
