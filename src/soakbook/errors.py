"""The error tree. Every error a user can cause is an `InputError` or a `BookError`; nothing else reaches a screen."""

from datetime import date, datetime, time

LONGEST_SHOWN = 200
"""Letters of a value that are shown; of a longer one its beginning."""


class SoakbookError(Exception):
    """Anything soakbook raises on purpose."""


class InputError(SoakbookError):
    """Something typed or read that cannot be right: names the field, the value and what would be right."""

    def __init__(self, field: str, value: object, right: str) -> None:
        self.field = field
        self.value = value
        self.right = right
        super().__init__(refused(field, value, right))


class UnreckonedError(InputError):
    """What is asked after is right, but the book knows too little to reckon it: says why."""

    def __init__(self, field: str, value: object, why: str) -> None:
        super().__init__(field, value, why)
        self.args = (why,)


def refused(field: str, value: object, right: str) -> str:
    """What is said of a value that cannot be right, or of one that is missing."""
    if value is None or (isinstance(value, str) and not value.strip()):
        return f"{field} is missing: {right}"
    return f"{field}: {_shown(value)} cannot be right; {right}"


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, float):
        return f"{value:.4g}"
    if isinstance(value, str) and len(value) > LONGEST_SHOWN:
        return repr(f"{value[:LONGEST_SHOWN]}...")
    return repr(value)


class BookError(SoakbookError):
    """The book cannot be opened, is not a book, or is busy."""


class WeatherError(SoakbookError):
    """A weather service or station gave nothing that can be used; what the book has is untouched.

    `kind` is refused (what was asked for cannot be had: asking again is no use), busy (it asks for patience, until
    `not_before` if it said), down (nothing or a failure came), rubbish (something came that is no weather),
    waiting (it is not to be asked yet) or offline (nobody was to be asked).
    """

    def __init__(
        self, service: str, kind: str, say: str, not_before: datetime | None = None
    ) -> None:
        self.service = service
        self.kind = kind
        self.say = say
        self.not_before = not_before
        super().__init__(f"{service}: {say}")


class LedgerError(SoakbookError):
    """The day's water does not add up: a fault of ours, never of the gardener's."""

    def __init__(self, planting: str, member: int, day: str, terms: dict[str, float]) -> None:
        self.planting = planting
        self.member = member
        self.day = day
        self.terms = terms
        listed = ", ".join(f"{name} {value:.6g}" for name, value in terms.items())
        super().__init__(
            f"water not accounted for: planting {planting}, member {member}, {day}: {listed}"
        )
