"""What each stop of a lesson shows; see lessons.stops."""
