"""An invented academy, drawn from a seed: the same seed gives the same people, lessons and balls."""
