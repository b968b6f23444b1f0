"""Fields read from one option, held to their bounds, so that a fault speaks of what was typed."""

from collections.abc import Mapping
from typing import Any

from soakbook.quantities.names import QUANTITIES, check


def in_bounds(fields: Mapping[str, Any], option: str, text: str) -> Mapping[str, Any]:
    """The fields, when each can be right for its quantity.

    Parameters
    ----------
    fields : mapping
        Record field -> value, as the option's reader has them.
    option, text : str
        What the gardener calls it, and what was typed.

    Raises
    ------
    InputError
        Names option and text.
    """
    for name, value in fields.items():
        if name in QUANTITIES and isinstance(value, int | float):
            check(name, value, field=option.replace("_", " "), typed=text)
    return fields
