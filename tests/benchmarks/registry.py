"""Every benchmark by name; a new one is a module with ``run()`` and one line here."""

BENCHMARKS: dict[str, str] = {
    "flight": "tests.benchmarks.flight",
    "pages": "tests.benchmarks.pages",
    "imports": "tests.benchmarks.imports",
    "writes": "tests.benchmarks.writes",
}
