"""Reading and writing files: bytes in, a report out; nothing here knows the database."""
