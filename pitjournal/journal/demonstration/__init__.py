"""The demonstration journal: an invented scenario, made by running commands."""
