"""Exit statuses: 0 is good."""

MENDABLE = 2
"""The words typed or the book, for the user to mend."""

NOTHING_CAME = 3
"""A service or an address gave nothing; asked again later it may."""

OURS = 1
"""A fault of ours, or nowhere to print to."""

BROKEN_OFF = 130
"""Broken off."""
