"""Weather as it arrives: files, and reference ET reckoned from it.

Nothing here knows the book or the reckoning; what comes out are `garden.weather` values.
"""
