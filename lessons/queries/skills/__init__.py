"""Reading short-game tests: one run, all runs of a student, and what the rules say to them."""
