"""The academy in numbers: every figure with its definition, its two counts, its window and the list behind it."""
