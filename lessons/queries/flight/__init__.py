"""What the flight page of a block shows, one module a subject; ``page`` puts it together."""
