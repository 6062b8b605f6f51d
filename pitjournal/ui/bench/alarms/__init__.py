"""Alarms: set, and the bar while one is due."""
