"""The error tree. Every error a user can cause is an `InputError` or a `BookError`; nothing else reaches a screen."""


class SoakbookError(Exception):
    """Anything soakbook raises on purpose."""


class InputError(SoakbookError):
    """Something typed or read that cannot be right: names the field, the value and what would be right."""

    def __init__(self, field: str, value: object, right: str) -> None:
        self.field = field
        self.value = value
        self.right = right
        super().__init__(f"{field}: {value!r} cannot be right; {right}")


class BookError(SoakbookError):
    """The book cannot be opened, is not a book, or is busy."""


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
