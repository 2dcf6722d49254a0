"""Plans from the record: a lesson, a series, a season, practice. Proposals with reasons; a person decides."""
