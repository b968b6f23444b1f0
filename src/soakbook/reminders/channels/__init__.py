"""The ways to a person: mail, push, and which of them a message takes."""
