"""What was known at one moment: all that deciding sees of the garden."""

from datetime import date, datetime
from typing import NamedTuple

from soakbook.garden.heat import HeatSpell
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Uid
from soakbook.garden.spells import Spell
from soakbook.reckoning.advice.in_heat import BedInHeat
from soakbook.reckoning.advice.report import Call, Round


class Sight(NamedTuple):
    """The book as it was known at a moment, and the round as it stood then."""

    at: datetime
    """On the garden's clock."""
    pages: Pages
    round: Round
    spell: Spell | None = None
    """How dry it has been; None where no rain is known."""
    heat: HeatSpell | None = None
    in_heat: tuple[BedInHeat, ...] = ()

    @property
    def day(self) -> date:
        """The garden's day."""
        return self.at.date()

    def bed(self, key: str) -> Bed:
        """The bed of a key."""
        return next(bed for bed in self.pages.beds if bed.key == key)

    def uid(self, call: Call) -> Uid:
        """The uid of a call's bed."""
        return self.bed(call.bed).uid

    def rooted_in_balls(self) -> tuple[Call, ...]:
        """Calls of the beds in which roots are in the ball yet, or have hardly left it."""
        return tuple(
            call
            for call in self.round.calls
            if any(one.stage in ("settling", "knitting") for one in call.plantings)
        )
