"""The words of the command line."""

COMMANDS = {
    "cooks": "cooks",
    "summary": "summary",
    "check": "check",
    "backup": "backup",
}
"""Each command and the module of this package that carries it out."""
