"""The rounds a finger or a hole is answered from: of the dawn it squares up and of now, each before and after."""

from datetime import date
from typing import NamedTuple

from soakbook.garden.entries import When
from soakbook.services.desk import Desk
from soakbook.services.outlook import Outlook, outlook, outlook_of_day

TONIGHT = " It counts from this evening on."
"""Of what was found after today's soak: today's round stands as it did."""


class Looks(NamedTuple):
    """Of the dawn that is squared up `was` and `then`, of now `before` and `now`."""

    was: Outlook
    then: Outlook
    before: Outlook
    now: Outlook
    from_tonight: bool


def looks_of(before: Desk, after: Desk, dawn: date, when: When) -> Looks:
    """The rounds for something found at a moment that squares up a dawn, from the pages before and after."""
    now = outlook(after.pages, after.now, when)
    was = outlook_of_day(before.pages, before.now, dawn)
    if dawn == now.round.morning:
        return Looks(was, now, was, now, dawn > after.today)
    then = outlook_of_day(after.pages, after.now, dawn)
    earlier = outlook(before.pages, before.now, when)
    return Looks(was, then, earlier, now, dawn > after.today)
