"""What if: the season as it might have been, in tables with its doubt, and what they mean."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from soakbook.account.contents.blocks import Block, Column, Row, Section, Table, Text
from soakbook.account.contents.figures import changed, cubic, ranged, whole
from soakbook.account.suggestions import AS_IT_WAS, WHAT_IF_PAGE
from soakbook.reckoning.advice.calendars import PUBLISHED, WHOSE

Ways = Sequence[Mapping[str, Any]]

AS_GIVEN = (
    "As given: every soak stays as it was entered, and the plants stand dry on more days or fewer; in brackets "
    "the ends between which eight of ten sums lie. A change is taken sum by sum."
)
BY_ROUND = (
    "By the round: nothing is given but what the round asks for, in full, on each morning on which somebody comes, as "
    "far as the hours and the rules allow; in brackets the least and "
    "the most, of the garden as it is thought to be and of others like it, drawn at random within what is not known of "
    "soils and plants."
)
A_DRY_DAY = (
    "A dry day is one on which some plant's leading store in a bed was wanting or parched; of the whole garden they "
    "are added up over its beds."
)
NOT_IN_IT = (
    "Nobody feels the soil in any of these, and no forecast is seen: so the season as it was comes out a little "
    "otherwise here than on the first page. Hold each line against the season as "
    "it was in the same table, not against what was entered."
)
OF_CALENDARS = (
    "Published calendars: each planting is watered on the days and with the litres that the calendar has for it, but "
    "in winter, though nobody may come. They were read at second hand, not in the originals."
)
OF_WAYS = (
    "Half as often: of a planting's soaks every second is given with the one before it. "
    "What is planted earlier has more days to be dry on, and its leaves are out sooner: its days in the ground before "
    "the season are counted too."
)

WORLD_COLUMNS = (
    Column("way", "name"), Column("as given: dry days"), Column("against as it was"),
    Column("by the round: times"), Column("by the round: m³"), Column("by the round: dry days"),
)  # fmt: skip
CALENDAR_COLUMNS = (
    Column("calendar", "name"), Column("whose", "words"), Column("times"), Column("m³"), Column("dry days"),
    Column("against as it was"),
)  # fmt: skip
CALENDARS = frozenset(one.key for one in PUBLISHED)


def what_if_page(ways: Ways) -> Section:
    """The section of the whole garden.

    Parameters
    ----------
    ways : sequence of mapping
        As `json_of` gives them.
    """
    mine = [one for one in ways if not one["bed"]] or list(ways)
    blocks: list[Block] = [
        Text(AS_GIVEN),
        Text(BY_ROUND),
        Text(A_DRY_DAY),
        Text(OF_WAYS),
        _worlds(mine, "The season otherwise"),
    ]
    calendars = [one for one in mine if one["key"] in CALENDARS]
    if calendars:
        blocks += [_calendars(calendars), Text(OF_CALENDARS, small=True)]
    return Section(WHAT_IF_PAGE, "What if", (*blocks, Text(NOT_IN_IT)), new_page=True)


def bed_ways(ways: Ways, key: str, name: str) -> Iterator[Table]:
    """The table of one bed; nothing where none was reckoned.

    Parameters
    ----------
    ways : sequence of mapping
        As `json_of` gives them.
    key, name : str
        The bed's.
    """
    mine = [one for one in ways if one["bed"] == key]
    if any(one["given"] for one in mine):
        yield _worlds(mine, f"What if: {name}")


def _worlds(ways: Ways, caption: str) -> Table:
    rows = tuple(_world(one) for one in ways if one["key"] not in CALENDARS)
    return Table(caption, WORLD_COLUMNS, rows)


def _world(way: Mapping[str, Any]) -> Row:
    if way["refused"]:
        return Row((way["words"], f"Not reckoned: {way['refused'].replace('`', '')}."))
    given, by_round = way["given"], way["by_round"]
    change = "" if way["key"] == AS_IT_WAS else changed(given["dry_days_change"])
    return Row(
        (
            way["words"], ranged(given["dry_days"]), change, ranged(by_round["visits"]),
            ranged(by_round["litres"], cubic), ranged(by_round["dry_days"]),
        )
    )  # fmt: skip


def _calendars(ways: Ways) -> Table:
    rows = tuple(
        Row((one["words"], f"Not reckoned: {one['refused'].replace('`', '')}."))
        if one["refused"]
        else Row(
            (
                one["words"], WHOSE[one["key"]], whole(one["given"]["visits"]), cubic(one["given"]["litres"]),
                ranged(one["given"]["dry_days"]), changed(one["given"]["dry_days_change"]),
            )
        )
        for one in ways
    )  # fmt: skip
    return Table("Published calendars, followed as they stand", CALENDAR_COLUMNS, rows)
