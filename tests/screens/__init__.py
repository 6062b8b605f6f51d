"""Pictures of every page and state: ``python -m tests.screens OUT``."""
