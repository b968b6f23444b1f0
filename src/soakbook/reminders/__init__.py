"""Reminders: what is due is decided, written into the book's outbox, and sent.

`deciding` is pure; `channels` are the ways to a person; `waking` is the clock. What is wanted of a bed is the
reckoning's, what happened is the book's.
"""
