"""The ways to a person, one a file: each takes a message and says what became of it, and raises for nothing."""
