"""What a watering changed: who had how much, what the balls could hold, when it is wanted again."""

from collections.abc import Sequence
from typing import NamedTuple

from soakbook.garden.entries import Loss, Soak
from soakbook.garden.records import Planting
from soakbook.quantities import saying
from soakbook.quantities.saying import names, plural
from soakbook.reckoning.advice.report import Call, PlantingCall
from soakbook.reckoning.advice.supply import flow_on
from soakbook.reckoning.simulation.watering import local_day, soak_shares, soak_step
from soakbook.services.desk import Desk
from soakbook.services.outlook import Outlook, as_changed, outlook, says
from soakbook.services.subjects import Subject, of_bed
from soakbook.services.told import Report, told

MUCH_MORE = 1.5
MUCH_LESS = 0.75
"""Beside the round's dose, more or less than this is worth a word."""

WETS_ONLY_MULCH_L = 0.5
"""Less than this a plant hardly reaches the roots. common practice, no source."""

FULL = 0.999

KINDS = {
    "soak": "",
    "rescue": ", a rescue",
    "re_wet": ", to re-wet the balls",
    "water_in": ", to water in",
}


class Share(NamedTuple):
    """A planting, its living plants, and the litres that each of them had."""

    planting: Planting
    plants: int
    litres_each: float


class Given(NamedTuple):
    """What one bed was given, on the pages it stands in, between the round before and the round after."""

    desk: Desk
    about: Subject
    soaks: tuple[Soak, ...]
    before: Outlook
    after: Outlook

    @property
    def litres(self) -> float:
        """All of it."""
        return sum(soak.litres for soak in self.soaks)

    @property
    def advised(self) -> bool:
        """Whether it was the round's own dose."""
        return self.soaks[0].typed == "advised"

    @property
    def bears_on_the_round(self) -> bool:
        """Whether it counts in the step that the round is about, not in one gone by."""
        return soak_step(self.soaks[0].happened_at, self.desk.zone) >= self.after.today

    @property
    def minutes(self) -> float | None:
        """The tap open; None without a flow."""
        tap = self.desk.tap_of(self.about.bed)
        day = local_day(self.soaks[0].happened_at, self.desk.zone)
        flow = None if tap is None else flow_on(tap, day)
        return None if flow is None else self.litres / flow

    @property
    def cans(self) -> float | None:
        """In cans, when it was carried in them."""
        by_can = all(soak.method == "can" for soak in self.soaks)
        return self.litres / self.desk.garden.can_l if by_can else None

    def shares(self) -> list[Share]:
        """What each planting had of it."""
        losses = [one for one in self.desk.pages.entries if isinstance(one, Loss)]
        counts = {planting.uid: count for planting, count in self.about.living}
        return [
            Share(planting, counts[planting.uid], each)
            for soak in self.soaks
            for planting, each in soak_shares(soak, self.desk.pages, losses, self.desk.zone)
        ]


def answers(
    before: Desk, after: Desk, given: Sequence[tuple[Subject, tuple[Soak, ...]]]
) -> list[Report]:
    """One answer a bed, from the pages before and after."""
    when = given[0][1][0].happened_at
    was, now = (outlook(desk.pages, desk.now, when) for desk in (before, after))
    return [_answer(Given(after, about, soaks, was, now)) for about, soaks in given]


def _answer(given: Given) -> Report:
    bed, shares = given.about.bed, given.shares()
    say = (
        how_given(given),
        f"{_beside_the_round(given, shares)} {says(given.after, bed)}".strip(),
    )
    changed = {
        "entries": [soak.uid for soak in given.soaks],
        "litres": given.litres,
        "minutes": given.minutes,
        "cans": given.cans,
        "plantings": [
            {"planting": one.planting.name, "count": one.plants, "litres_each": one.litres_each}
            for one in shares
        ],
        "after": as_changed(given.after, bed),
    }
    return told("soak", bed.key, say, changed)


def how_given(given: Given) -> str:
    """How much it was, in minutes or cans, and what each plant had: `Chapel Wall: 17 L, 1 min of tap A. ...`."""
    heading = f"{of_bed(given.about.bed, given.about.planting)}: {saying.litres(given.litres)}"
    kind = KINDS[given.soaks[0].kind]
    return f"{heading}{_by(given)}{kind}. {_shared(given, given.shares())}"


def _by(given: Given) -> str:
    """`, 14 min of tap A` or `, 20 cans`."""
    if given.cans is not None:
        return f", {saying.number(given.cans)} can{'' if given.cans <= 1 else 's'}"
    tap = given.desk.tap_of(given.about.bed)
    return f", {saying.minutes(given.minutes)} of tap {tap.key}" if given.minutes and tap else ""


def _shared(given: Given, shares: list[Share]) -> str:
    if len(shares) == 1:
        one = shares[0]
        each = saying.litres(one.litres_each)
        return f"Over {one.plants:,} {plural(one.planting.name, one.plants)} that is {each} each."
    usual = any(one.planting.usual_dose_l for one in shares)
    how = f"Shared by count and {'usual dose' if usual else 'size of ball'}"
    parts = [f"{one.planting.name} {saying.litres(one.litres_each)}" for one in shares]
    parts[0] += " each"
    return f"{'As the round had it' if given.advised else how}: {names(parts)}."


def _beside_the_round(given: Given, shares: list[Share]) -> str:
    """How it stands beside what the round had; nothing of what lies days back."""
    if shares and all(one.litres_each < WETS_ONLY_MULCH_L for one in shares):
        return "Entered as given; so little likely wets the mulch and not much more."
    before, after = (look.call(given.about.bed) for look in (given.before, given.after))
    if before is None or after is None or given.advised or not given.bears_on_the_round:
        return ""
    if before.verdict == "held_back" and given.soaks[0].kind != "re_wet":
        return "It was held back before this: feel ball and bed before it has any more."
    return _too_little(before, shares) or _too_much(before, after, shares)


def _too_little(before: Call, shares: list[Share]) -> str:
    short = [
        f"{saying.litres(_advised_l(before, one))} for each of the {plural(one.planting.name)}"
        for one in shares
        if one.litres_each < MUCH_LESS * _advised_l(before, one)
    ]
    return f"The round had {names(short)}." if short else ""


def _too_much(before: Call, after: Call, shares: list[Share]) -> str:
    over = [
        plural(one.planting.name)
        for one in shares
        if one.litres_each > MUCH_MORE * _advised_l(before, one) and _ball_is_full(after, one)
    ]
    if not over:
        return ""
    of = "" if len(over) == len(shares) else f" of the {names(over)}"
    return f"More than the balls{of} can keep; the bed has the rest."


def _advised_l(call: Call, share: Share) -> float:
    one = _of_planting(call, share)
    return one.litres_each if one else 0.0


def _ball_is_full(call: Call, share: Share) -> bool:
    one = _of_planting(call, share)
    return bool(one and one.ball_fraction and one.ball_fraction.p50 >= FULL)


def _of_planting(call: Call, share: Share) -> PlantingCall | None:
    return next((one for one in call.plantings if one.planting == share.planting.name), None)
