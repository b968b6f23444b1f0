"""The reckoning beside the world: measured records, and a season's water beside printed calendars.

Programs for developers and for whoever doubts. Nothing here is part of a morning.
"""
