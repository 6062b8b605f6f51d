"""The verdict plate."""
