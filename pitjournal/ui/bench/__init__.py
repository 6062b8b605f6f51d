"""The bench: what is tapped while cooking."""
