"""Speed as a ratio to a peer in the same run: ``python -m tests.benchmarks [NAME…] [--json FILE]``."""
