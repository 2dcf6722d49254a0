"""The flight of a golf ball: air, flight, impact, and what may honestly be said from them."""
