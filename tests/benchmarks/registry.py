"""Every benchmark by name; a new one is a module with ``run()`` and one line here."""

BENCHMARKS: dict[str, str] = {
    "flight": "tests.benchmarks.flight",
    "pages": "tests.benchmarks.pages",
    "phone": "tests.benchmarks.phone",
    "clients": "tests.benchmarks.clients",
    "growth": "tests.benchmarks.growth",
    "imports": "tests.benchmarks.imports",
    "memory": "tests.benchmarks.memory",
    "roster": "tests.benchmarks.roster",
    "rules": "tests.benchmarks.rules",
    "start": "tests.benchmarks.start",
    "uploads": "tests.benchmarks.uploads",
    "writes": "tests.benchmarks.writes",
}
