"""What a season's numbers suggest once it is over. Each line stands only where its own numbers bear it.

Nothing is praised and nothing called saved: a difference is said against a named way of watering, with its doubt.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from soakbook.account.remarks import cubic_metres, most_off
from soakbook.account.reviewed import Account
from soakbook.account.rows import rows_of
from soakbook.account.ways import ByRound, Way
from soakbook.account.worlds import planted_in
from soakbook.garden.entries import MulchLaid
from soakbook.garden.jars import measured_shares
from soakbook.garden.records import Bed
from soakbook.garden.tables.places import PLACES
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted, names, number

AS_IT_WAS = "as_it_was"
EARLIER = ("autumn", "month_earlier")
"""The other days of planting, the better one first."""

WORTH_VISITS = 5.0
WORTH_SHARE = 0.25
BEDS_TOLD = 2
HOURS_OVER_WATER = 1.5
HOURS_SHARE = 0.1
HELD_VISITS = 2
ABOUT_THE_SAME = 0.15
"""Below these a difference is not worth a line. common practice, no source."""

MOST_GUESSED = 0.2
"""Of the days. common practice, no source."""

OF_GARDENS = "in nine likely gardens"
"""What the least and the most by the round are of: `what_if.DRAWN` and the garden as it is thought to be."""

WHAT_IF_PAGE = "what-if"
DROWNED = "drowned"


Row = dict[str, Any]


class Suggestion(NamedTuple):
    """One line, and the page of the documents that has its numbers."""

    about: str
    bed: str | None
    say: str
    page: str


def bed_page(key: str) -> str:
    """The page of a bed."""
    return f"bed-{key}"


def suggestions_of(account: Account, ways: Sequence[Way]) -> tuple[Suggestion, ...]:
    """What a season suggests; nothing before it is over, nor where much of its weather was supposed.

    Parameters
    ----------
    account : Account
    ways : sequence of Way
        Other ways of watering, as `what_if` reckons them; with none of them, what needs them is left out.
    """
    if not account.span.closed or _mostly_guessed(account):
        return ()
    beds: list[Row] = rows_of(account.beds)
    return (
        *_of_planting(account, beds, ways),
        *_of_hours(beds),
        *_of_wet_ground(beds),
        *_of_mulch(account, ways),
        *_of_rhythm(ways),
        *_of_rain_share(account),
    )


def _mostly_guessed(account: Account) -> bool:
    """Whether more of the weather was supposed than lessons can be drawn from."""
    by_day = account.days.groupby("day", observed=True)["guessed"].first()
    return len(by_day) > 0 and float((by_day != "").mean()) > MOST_GUESSED


def second_year(account: Account) -> str | None:
    """Which beds to look at through a dry winter, and what the others may want; None with nothing alive."""
    pages, days = account.pages, account.days
    if days.empty:
        return None
    last = days[days["day"] == days["day"].max()]
    living = set(last.loc[last["closing_l"] > 0, "planting_uid"])
    evergreen = {
        one.bed_uid for one in pages.plantings if one.uid in living and one.leaf == "evergreen"
    }
    standing = [
        bed
        for bed in pages.beds
        if bed.uid in {one.bed_uid for one in pages.plantings if one.uid in living}
    ]
    winter = [bed for bed in standing if bed.uid in evergreen or PLACES[bed.place].wall_foot]
    others = [bed for bed in standing if bed not in winter]
    said = []
    if winter:
        said.append(f"{names([bed.name for bed in winter])}: look through a dry winter.")
    if others:
        who = "The others" if winter else "All beds"
        said.append(f"{who}: likely two or three deep soaks in the worst spells.")
    return " ".join(said) or None


def _of_planting(
    account: Account, beds: Sequence[Row], ways: Sequence[Way]
) -> Iterator[Suggestion]:
    """Beds that would have wanted far fewer waterings, planted earlier: the two with the most between."""
    found = []
    in_season = planted_in(account.pages, account.span.first, account.span.until)
    for bed in beds:
        planted = sorted({one.planted_on for one in in_season if one.bed_uid == bed["bed_uid"]})
        was = _by_round(ways, AS_IT_WAS, bed["bed"])
        told = next(
            (way for key in EARLIER if (way := _way(ways, key, bed["bed"])) and way.by_round), None
        )
        if not planted or was is None or told is None or told.by_round is None:
            continue
        fewer = -told.by_round.visits_change.middle
        sure = told.by_round.visits_change.high < 0
        if sure and fewer >= max(WORTH_VISITS, WORTH_SHARE * was.visits.middle):
            found.append((fewer, bed, planted, was, told))
    for _, bed, planted, was, told in sorted(found, key=lambda one: -one[0])[:BEDS_TOLD]:
        lost = f", {bed['lost']} lost" if bed["lost"] else ""
        assert told.by_round is not None
        change, water = told.by_round.visits_change, told.by_round.litres_change
        say = (
            f"{bed['name']} was planted {names([month_day(day) for day in planted])}{lost}. Reckoned again by the "
            f"round, {told.words}: {number(-change.middle)} fewer of its {number(was.visits.middle)} waterings "
            f"({number(-change.high)} to {number(-change.low)} fewer {OF_GARDENS}), with "
            f"{_signed(water.middle)} water ({_signed(water.low)} to {_signed(water.high)})."
        )
        yield Suggestion("planting", bed["bed"], say, bed_page(bed["bed"]))


def _of_hours(beds: Sequence[Row]) -> Iterator[Suggestion]:
    """Beds that took much more of the time than of the water."""
    hours, litres = (sum(bed[name] for bed in beds) for name in ("hours", "litres"))
    if len(beds) < 2 or not hours or not litres:
        return
    for bed in beds:
        time, water = bed["hours"] / hours, bed["litres"] / litres
        if time >= HOURS_SHARE and time >= HOURS_OVER_WATER * water:
            say = (
                f"{bed['name']} took {number(100 * time)} of every 100 hours and {number(100 * water)} of every 100 "
                "litres."
            )
            yield Suggestion("hours", bed["bed"], say, bed_page(bed["bed"]))


def _of_wet_ground(beds: Sequence[Row]) -> Iterator[Suggestion]:
    for bed in beds:
        if bed["held_visits"] >= HELD_VISITS:
            drowned = f" It lost {bed['lost_to']}." if DROWNED in bed["lost_to"] else ""
            say = (
                f"{bed['name']}: {counted(bed['held_visits'], 'watering')} on a morning too wet for water or within "
                f"three days of one.{drowned} Feel a hand's breadth outside the ball before such a soak."
            )
            yield Suggestion("held back", bed["bed"], say, bed_page(bed["bed"]))


def _of_mulch(account: Account, ways: Sequence[Way]) -> Iterator[Suggestion]:
    """What mulch did to the litres that the round asks for; its other uses are not in the book."""
    was, bare = _by_round(ways, AS_IT_WAS), _by_round(ways, "no_mulch")
    laid = any(isinstance(one, MulchLaid) for one in account.pages.entries)
    if was is None or bare is None or not laid or not was.litres.middle:
        return
    change = bare.litres_change
    share = change.middle / was.litres.middle
    found = f"{_signed(change.middle)} on {cubic_metres(was.litres.middle)}"
    if abs(share) <= ABOUT_THE_SAME:
        found = f"about the same water, {found}"
    between = f"{' to '.join(_signed(one) for one in (change.low, change.high))} {OF_GARDENS}"
    say = (
        f"Mulch: reckoned again by the round without it, {found} ({between}). What it does against weeds and crust "
        "the book does not measure."
    )
    yield Suggestion("mulch", None, say, WHAT_IF_PAGE)


def _of_rhythm(ways: Sequence[Way]) -> Iterator[Suggestion]:
    """Whether the same water in fewer, larger soaks would have left plants dry on more days."""
    way = _way(ways, "twice_half")
    if way is None or way.given is None:
        return
    change = way.given.dry_days_change
    if change.low > 0 or change.high < 0:
        more = "more" if change.low > 0 else "fewer"
        low, high = sorted((abs(change.low), abs(change.high)))
        say = (
            f"Twice as much half as often: {number(abs(change.middle))} {more} dry days with the same water "
            f"({number(low)} to {number(high)} in eight of ten sums), added up over beds."
        )
        yield Suggestion("rhythm", None, say, WHAT_IF_PAGE)


def _of_rain_share(account: Account) -> Iterator[Suggestion]:
    """The bed whose soil the reckoning knows least of, where a jar beside the gauge would tell."""
    off = most_off(account)
    if off is None or off.store != "bed":
        return
    bed = next(one for one in account.pages.beds if one.uid == off.bed_uid)
    if _jarred(account, bed):
        return
    share = bed.rain_share if bed.rain_share is not None else PLACES[bed.place].rain_share
    say = (
        f"{bed.name}: over {counted(off.feels, 'feel')} its soil came out {'drier' if off.mean_sd < 0 else 'wetter'} "
        f"than reckoned. Its share of the rain, {share:g}, is worth a jam jar in the next shower."
    )
    yield Suggestion("rain share", bed.key, say, bed_page(bed.key))


def _jarred(account: Account, bed: Bed) -> bool:
    return measured_shares([bed], account.pages.entries)[0] is not None


def _way(ways: Sequence[Way], key: str, bed: str = "") -> Way | None:
    return next((one for one in ways if one.key == key and one.bed == bed), None)


def _by_round(ways: Sequence[Way], key: str, bed: str = "") -> ByRound | None:
    way = _way(ways, key, bed)
    return None if way is None else way.by_round


def _signed(litres: float) -> str:
    """`0.4 m³ less`, `1.2 m³ more`."""
    return f"{cubic_metres(abs(litres))} {'more' if litres > 0 else 'less'}"
