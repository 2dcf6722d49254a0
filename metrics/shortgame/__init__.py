"""Short game and putting: tests with fixed targets, what they measure, and how sure a result is."""
