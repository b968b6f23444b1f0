"""Whole numbers as they are typed."""

import re

from soakbook.errors import InputError


def whole_number(text: str, field: str, of: str) -> int:
    """A count of at least one."""
    plain = text.strip()
    if not re.fullmatch(r"[0-9]{1,9}", plain) or int(plain) < 1:
        raise InputError(field, text, f"a whole number of {of}, at least 1")
    return int(plain)
