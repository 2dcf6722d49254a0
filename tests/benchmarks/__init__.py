"""Speed and exactness as ratios: ``python -m tests.benchmarks [NAME…] [--json]``.

A benchmark module defines ``run() -> Iterable[Figure]`` and is listed in ``registry.py``.
"""
