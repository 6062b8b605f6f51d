"""The journeys in every look and at two sizes: ``python -m tests.journeys [WORDS]``."""

import os
import sys

import pytest

if __name__ == "__main__":
    os.environ["PITJOURNAL_LONG_JOURNEYS"] = "yes"
    chosen = ["-k", " ".join(sys.argv[1:])] if sys.argv[1:] else []
    sys.exit(pytest.main(["tests/journeys", "-q", *chosen]))
