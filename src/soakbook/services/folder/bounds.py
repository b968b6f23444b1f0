"""How much of a folder is read, and how much of it is written into one file so that it can be."""

FILE_BYTES = 50_000_000
"""Of one file that comes in."""

FILE_ROWS = 1_000_000
"""Of one CSV file that comes in."""

FIELD_LETTERS = 10_000
"""Of one field that comes in."""

LOGGED_LETTERS = 200_000
"""Of a record as the log of changes has it, all its fields together."""

UID_LETTERS = 100
"""Of a uid."""

PART_BYTES = 45_000_000
PART_ROWS = 900_000
"""What is written into one CSV file before the next begins: less than what is read."""

PARTS = 100
"""Files that one CSV may go on in."""
