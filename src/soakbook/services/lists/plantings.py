"""A list of plantings, entered whole or not at all; with area and soil beside them, their beds, too."""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from datetime import date, datetime
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting
from soakbook.quantities import saying
from soakbook.services.bed_words import bed_fields
from soakbook.services.desk import Desk, bed_of, key_of
from soakbook.services.lists.beds import NewBeds
from soakbook.services.lists.columns import PLANTINGS
from soakbook.services.lists.report import Entered, PlantingLine
from soakbook.services.lists.sheet import Pasted
from soakbook.services.lists.sitting import Listing
from soakbook.services.origin_words import in_a_nursery, origin_said
from soakbook.services.pen import Pen
from soakbook.services.plant_answer import cautions_of, what_of
from soakbook.services.plant_words import Fields
from soakbook.services.planting import check_usual, new_fields, one_of, said_of
from soakbook.services.room import check_rooms
from soakbook.services.told import Report
from soakbook.store.book import new_uid

NEEDED = ("bed", "kind", "count")
OF_ITS_BED = ("area", "soil", "place", "tap")
MAKES_A_BED = ("area", "soil")
BARE = {"yes": True, "y": True, "x": True, "1": True, "true": True, "bare": True, "bare root": True}
NOT_BARE = ("no", "n", "0", "false", "-")
NO_BED = "a bed of the book; a list makes beds where it has columns for their area and soil"


def plant_list(path: Path, pasted: Pasted, *, now: datetime, by: str | None = None) -> Report:
    """Enter a list of plantings, or say how it is understood.

    Parameters
    ----------
    path : Path
        The book.
    pasted : Pasted
        The list.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.

    Raises
    ------
    InputError
        Anything that cannot be right, all of it at once; then nothing of it is in the book.
    """
    listing = Listing("plantings", pasted, PLANTINGS)
    listing.need(*NEEDED)
    reader = listing.enter(
        Pen(path, now, by), lambda desk, words: _Reader(desk, words, pasted.again)
    )
    return _report(listing, reader)


class _Reader:
    """Rows read one by one into beds and plantings that do not contradict the book or each other."""

    def __init__(self, desk: Desk, beds: Collection[str], again: bool) -> None:
        self.desk = desk
        self.again = again
        self.new = NewBeds(desk, beds)
        self.planted: list[tuple[int, Planting]] = []
        self._found: dict[str, Bed] = {}
        self._in_book = {(one.bed_uid, one_of(one.name)): one for one in desk.pages.plantings}
        self._in_bed: defaultdict[tuple[str, date, int], list[Planting]] = defaultdict(list)
        for one in desk.pages.plantings:
            self._in_bed[one.bed_uid, one.planted_on, one.count].append(one)
        self._names = set(self._in_book)
        self._of_name: Counter[tuple[str, str]] = Counter()

    def read(self, line: int, typed: dict[str, str]) -> None:
        """One row: its bed, made if need be, and its planting."""
        of_bed = {name: typed.pop(name) for name in OF_ITS_BED if name in typed}
        bed = self._bed(line, typed.pop("bed", ""), of_bed)
        kind, count = typed.pop("kind", ""), typed.pop("count", "")
        said = said_of(kind, count, _options(typed))
        fields = new_fields(self.desk, bed, said)
        if not self.again:
            self._check_not_there(bed, fields)
        fields["name"] = self._free_name(bed, fields)
        record = admit(Planting, uid=new_uid(), **fields)
        check_usual(record, said.typed)
        self.planted.append((line, record))

    def after(self) -> Pages:
        """The book's pages with what was read."""
        pages = self.desk.pages
        return pages._replace(
            beds=(*pages.beds, *(bed for _, bed in self.new.made)),
            plantings=(*pages.plantings, *(one for _, one in self.planted)),
        )

    def entered(self) -> Entered:
        """The new beds and plantings."""
        return Entered(tuple(self.new.made), tuple(self.planted))

    def at_last(self) -> Iterator[tuple[int, InputError]]:
        """One fault for each bed that has too little room, at its first line."""
        after = self.after()
        lines: dict[str, int] = {}
        for line, one in self.planted:
            lines.setdefault(one.bed_uid, line)
        beds = {one.uid: one.bed_uid for one in after.plantings}
        for uid, fault in check_rooms(after, lines.keys()):
            if beds[uid] in lines:
                yield lines.pop(beds[uid]), fault

    def _bed(self, line: int, word: str, typed: dict[str, str]) -> Bed:
        made = self.new.find(word)
        bed = made or self._found.get(word) or self._in_the_book(word, typed)
        if bed is None:
            return self.new.make(line, word, typed)
        self._found[word] = bed
        _check_same(self.desk, bed, typed)
        return bed

    def _in_the_book(self, word: str, typed: dict[str, str]) -> Bed | None:
        """The bed of the book that is meant; None where the row makes it."""
        if not word:
            raise InputError("bed", word, "which bed they stand in")
        if all(name in typed for name in MAKES_A_BED) and not self.new.in_book(word):
            return None
        try:
            return bed_of(self.desk.pages, word)
        except InputError as error:
            raise InputError("bed", word, f"{NO_BED} ({error.right})") from error

    def _check_not_there(self, bed: Bed, fields: Fields) -> None:
        """Refuse what stands in the book already."""
        name, on = str(fields["name"]), fields["planted_on"]
        names = (self._of_day(name, on), name)
        by_name = (self._in_book.get((bed.uid, one_of(one))) for one in names)
        numbered = one_of(f"{names[0]}, ")
        same = self._in_bed[bed.uid, on, fields["count"]]
        by_number = (one for one in same if one_of(one.name).startswith(numbered))
        there = next((one for one in (*by_number, *by_name) if one is not None), None)
        if there is None:
            return
        since = saying.date_of(there.planted_on, self.desk.today)
        what = f"{saying.plants_of(there.name, there.count)}, planted {since},"
        if (there.count, there.planted_on) == (fields["count"], on):
            stand = "stands" if there.count == 1 else "stand"
            right = (
                f"the {what} {stand} in {bed.name} already: leave the line out, or --again plants them once "
                "more"
            )
        else:
            right = f"{bed.name} has {what[:-1]}: another name, in a column name, for others"
        raise InputError("planting", name, right)

    def _free_name(self, bed: Bed, fields: Fields) -> str:
        """The name, with day or number where another planting of the bed has it already."""
        name = str(fields["name"])
        of_day = self._of_day(name, fields["planted_on"])
        free = name
        while (bed.uid, one_of(free)) in self._names:
            self._of_name[bed.uid, of_day] += 1
            number = self._of_name[bed.uid, of_day]
            free = of_day if number == 1 else f"{of_day}, {number}"
        self._names.add((bed.uid, one_of(free)))
        return free

    def _of_day(self, name: str, on: date) -> str:
        return f"{name} of {saying.date_of(on, self.desk.today)}"


def _options(typed: dict[str, str]) -> dict[str, str]:
    """A row's columns as the options of a planting."""
    if "like" in typed:
        typed["plant_class"] = typed.pop("like")
    if "pot" in typed and in_a_nursery(typed["pot"]):
        typed |= origin_said(typed.pop("pot"), "pot")
    if "size" in typed:
        for option, text in origin_said(typed.pop("size")).items():
            if option in typed:
                raise InputError(option, typed[option], "how they came said once")
            typed[option] = text
    if "bare" in typed:
        word = typed.pop("bare").strip().casefold()
        if word in BARE:
            typed["bare"] = "yes"
        elif word not in NOT_BARE:
            raise InputError("bare", word, "yes or no")
    return typed


def _check_same(desk: Desk, bed: Bed, typed: dict[str, str]) -> None:
    """Refuse what a row says of a bed that is otherwise in the book, or on an earlier line."""
    own = {name: text for name, text in typed.items() if name != "tap"}
    for name, value in bed_fields(own).items():
        if getattr(bed, name) != value:
            option = name.removesuffix("_m2")
            right = f"as the book or an earlier line has it for {bed.name}: {getattr(bed, name)}"
            raise InputError(option, own.get(option), right)
    if "tap" in typed and key_of(typed["tap"], [bed.tap or "none"]) is None:
        right = f"as the book or an earlier line has it for {bed.name}: {bed.tap or 'none'}"
        raise InputError("tap", typed["tap"], right)


def _report(listing: Listing, reader: _Reader) -> Report:
    desk, entered = reader.desk, reader.entered()
    beds = {bed.uid: bed for bed in reader.after().beds}
    lines = [_line(desk, beds[one.bed_uid], number, one) for number, one in entered.plantings]
    plants = sum(one.count for _, one in entered.plantings)
    so_many = saying.counted(len(lines), "planting")
    in_beds = saying.counted(len({one.bed for one in lines}), "bed")
    fresh = f", {len(entered.beds)} of them new" if entered.beds else ""
    first = f"{so_many}, {saying.counted(plants, 'plant')}, in {in_beds}{fresh}"
    cautions = cautions_of(desk.pages.plantings, [one for _, one in entered.plantings])
    return listing.report(entered, first, beds=beds, lines=lines, cautions=cautions)


def _line(desk: Desk, bed: Bed, number: int, one: Planting) -> PlantingLine:
    say = f"{bed.name}: {what_of(one, desk.today)}"
    return PlantingLine(
        number, bed.key, one.name, one.plant_class, one.count, one.origin, one.ball_volume_l,
        one.planted_on.isoformat(), say,
    )  # fmt: skip
