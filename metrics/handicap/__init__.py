"""Handicap arithmetic by the Rules of Handicapping: a mirror of the official index, which always wins."""
