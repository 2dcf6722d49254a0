"""Goals with their verdicts: on the coach's page with numbers, on the student's in plain words."""
