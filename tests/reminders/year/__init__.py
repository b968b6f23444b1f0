"""A simulated year of reminders with everything that can befall them: `python -m tests.reminders.year`."""
