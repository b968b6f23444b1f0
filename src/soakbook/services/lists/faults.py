"""What cannot be right in a list: gathered line by line, and said all at once."""

from soakbook.errors import InputError
from soakbook.quantities import saying

MOST_LISTED = 20
MOST_LINES = 8
"""Of one fault that many lines have."""


class Faults:
    """Faults by what is said of them; several lines may have the same one."""

    def __init__(self) -> None:
        self._lines: dict[str, list[int]] = {}

    def __len__(self) -> int:
        """How many different faults there are."""
        return len(self._lines)

    def add(self, line: int, fault: InputError) -> None:
        """Note a fault of a line."""
        lines = self._lines.setdefault(str(fault), [])
        if line not in lines[-1:]:
            lines.append(line)

    def refuse(self, name: str) -> None:
        """Refuse the list where there is any fault.

        Raises
        ------
        InputError
            Names the first twenty, each with its lines.
        """
        if not self._lines:
            return
        by_line = sorted(self._lines.items(), key=lambda one: one[1][0])
        listed = [f"  {_at(lines)}: {text}" for text, lines in by_line[:MOST_LISTED]]
        if len(by_line) > MOST_LISTED:
            listed.append(f"  and {len(by_line) - MOST_LISTED:,} more")
        right = f"{saying.counted(len(by_line), 'fault')}, so nothing of it is entered:\n"
        raise InputError("list", name, right + "\n".join(listed))


def _at(lines: list[int]) -> str:
    if len(lines) == 1:
        return f"line {lines[0]}"
    shown = [str(line) for line in lines[:MOST_LINES]]
    if len(lines) > MOST_LINES:
        return f"lines {', '.join(shown)} and {len(lines) - MOST_LINES:,} more"
    return f"lines {saying.names(shown)}"
