"""The words of the command line."""

COMMANDS = {
    "cooks": "cooks",
    "backup": "backup",
}
"""Each command and the module of this package that carries it out."""
