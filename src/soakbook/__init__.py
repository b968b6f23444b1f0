"""soakbook: which newly planted beds need water, how much, and which can wait."""

__version__ = "0.1.0"
