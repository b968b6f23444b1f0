"""The specimen garden: an invented garden with a whole dry season, for learning and for trying a decision.

`source/` is its text; `season` makes the entries among it, `text` reads it, `build` makes the book that ships.
"""
