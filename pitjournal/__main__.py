"""`python -m pitjournal`."""

import sys

from pitjournal.app import main

sys.exit(main())
