"""Pictures and short clips that are kept with a lesson: what is let in, what is taken out of it, where it lies."""
