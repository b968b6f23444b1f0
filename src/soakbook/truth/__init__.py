"""The balance held against what others measured: records read, run with nothing fitted, scored, judged.

Nothing of the program imports this; it is run as `python -m soakbook.truth`.
"""
