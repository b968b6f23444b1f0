"""`python -m soakbook`."""

from soakbook.cli.start import run

run()
