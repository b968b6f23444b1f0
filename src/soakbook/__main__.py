"""`python -m soakbook`."""

import sys

from soakbook.cli.main import run

sys.exit(run())
