"""The sentence that a question is typed and written as."""
