"""What the work of a round takes, beside the minutes the tap is open.

All common practice, no source; counts of a gardener at work would better them.
"""

SECONDS_A_PLANT = 4.0
"""From one plant to the next with the hose."""

MINUTES_A_BED = 3.0
"""Unrolling, first run-off, rolling up."""

SECONDS_A_CAN = 27.0
"""Dipping or filling, and pouring; the walk there and back comes on top."""

WALK_M_PER_S = 1.0

FLOW_TEST_DAYS = 30
"""After so many days a hose test is asked for again: pipes, lances and neighbours change."""

BARROW_FILL_MIN = 4.0
"""Filling a barrow's tank at the tap, each time."""
