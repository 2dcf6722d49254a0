"""Django's SQLite, with writers of one process taking turns in the order they came; see ``base`` and ``turns``."""
