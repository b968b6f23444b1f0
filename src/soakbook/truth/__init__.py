"""The reckoning held against the world: measured records, and a season's water beside printed calendars.

Nothing of the program imports this; it is run as `python -m soakbook.truth` and `python -m soakbook.truth.water`.
"""
