"""Probe files at the bench: read, followed, put right."""
