"""What the traces of pit and meat say, and how their clocks and probes are put right."""
