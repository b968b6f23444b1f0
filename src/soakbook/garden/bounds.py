"""What a field of a record may hold beyond its type, written into its annotation.

Whoever checks records reads these as annotated-types' own constraints, by its protocol for grouped metadata.
That library is fetched only then: making its classes takes longer than reading a book.
"""

from collections.abc import Iterator
from typing import final


@final
class Bounds:
    """The ends of a number: `gt` and `lt` are left out of it, `ge` and `le` are in it."""

    __is_annotated_types_grouped_metadata__ = True
    __slots__ = ("ge", "gt", "le", "lt")

    def __init__(
        self,
        *,
        gt: float | None = None,
        ge: float | None = None,
        lt: float | None = None,
        le: float | None = None,
    ) -> None:
        self.gt, self.ge, self.lt, self.le = gt, ge, lt, le

    def __iter__(self) -> Iterator[object]:
        from annotated_types import Interval

        return iter(Interval(gt=self.gt, ge=self.ge, lt=self.lt, le=self.le))


@final
class NotEmpty:
    """At least one letter."""

    __is_annotated_types_grouped_metadata__ = True
    __slots__ = ()

    def __iter__(self) -> Iterator[object]:
        from annotated_types import MinLen

        return iter((MinLen(1),))
