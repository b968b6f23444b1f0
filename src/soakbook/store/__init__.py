"""The book on disk: one SQLite file a garden, and the cache of finished rounds.

The only home of sqlite3. Nothing here reckons, fetches or reads a clock.
"""
