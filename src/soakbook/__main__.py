"""`python -m soakbook`."""

import sys

from soakbook.cli.start import run

sys.exit(run())
