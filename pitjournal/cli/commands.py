"""The words of the command line."""

COMMANDS = {
    "demo": "demo",
    "inspect": "inspect_file",
    "cooks": "cooks",
    "contests": "contests",
    "bring": "bring",
    "plan": "plan",
    "forecast": "forecast",
    "trends": "trends",
    "findings": "findings",
    "summary": "summary",
    "season": "season",
    "class": "class_sheet",
    "bundle": "bundle",
    "export": "export",
    "check": "check",
    "backup": "backup",
    "restore": "restore",
    "salvage": "salvage",
}
"""Each command and the module of this package that carries it out."""
