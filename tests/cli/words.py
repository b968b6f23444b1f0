"""What may not stand on a page: labels of other kinds of program, promises, shares out of a hundred."""

import re

FORBIDDEN = re.compile(
    r"\b(stations?|programs?|run time|start time|cycles?|smart|automatic\w*|controllers?|sensors?"
    r"|thirsty|water me|schedules?|tasks?|overdue|snooze|streaks?|scores?|to-?do|irrigat\w+"
    r"|refill|deficits?|profiles?|health\w*|diagnos\w+|survive\w*|guarantee\w*|calls|a call"
    r"|MAD|TAW|RAW|ETo|Kc|Kcb|Ks)\b"
    r"|(?<!last )(?<!Last )\bsafe\b|%|per cent|[■█▓▒░●☺☹🌱💧]"
)
"""`why --symbols` alone may use the symbols; a bed of the round is never said to be a call."""


def amiss(text: str, width: int = 80) -> list[str]:
    """Lines that are too wide, end in blanks or hold what may not stand on a page."""
    return [
        line
        for line in text.splitlines()
        if len(line) > width or line != line.rstrip() or FORBIDDEN.search(line)
    ]
