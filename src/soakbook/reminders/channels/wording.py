"""What may be kept of what another machine said: a line, not long, without secrets; names and titles as a line, too."""

import re
from collections.abc import Iterable

LONGEST = 200
"""Letters of an answer that are kept."""

HIDDEN = "..."


def in_a_line(text: str) -> str:
    """A text without line ends and other letters that do not print, each run of blanks as one."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split())


def without(text: str, secrets: Iterable[str]) -> str:
    """A text in a line, at most `LONGEST` letters, with dots wherever a secret stood.

    Parameters
    ----------
    text : str
        What was said.
    secrets : iterable of str
        What must not be seen; longest first they are taken out, whatever their case. Empty ones count for nothing.
    """
    line = in_a_line(text)
    for secret in sorted(filter(None, map(in_a_line, secrets)), key=len, reverse=True):
        line = re.sub(re.escape(secret), HIDDEN, line, flags=re.IGNORECASE)
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 3]}..."
