"""The command line: plain words in, plain text or documented JSON out."""

from pitjournal.cli.main import main

__all__ = ["main"]
