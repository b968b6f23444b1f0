"""A watering entered: what was typed, in litres; or the round's own dose."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import ADVISED_SHARES, Left, Soak, SoakKind, When
from soakbook.garden.records import HandMethod
from soakbook.quantities import saying
from soakbook.quantities.amounts import MINUTES, Amount, Measures, litres, parse_amount
from soakbook.reckoning.advice.supply import flow_on
from soakbook.reckoning.simulation.cells import cells_m2
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.desk import Desk, writing
from soakbook.services.far_more import FarMore, Habits, as_doubtful, as_meant, doubted
from soakbook.services.history import history_of
from soakbook.services.pen import Pen, Written
from soakbook.services.same_soak import Twin, may_have_twins, twin_of
from soakbook.services.soak_bounds import check_each
from soakbook.services.subjects import Subject, subject
from soakbook.services.told import Report
from soakbook.store.dawns import DawnCache

if TYPE_CHECKING:
    from soakbook.reckoning.advice.rounds import Morning


class Doubt(NamedTuple):
    """What is to be asked of a watering before it is entered."""

    twin: Twin | None
    far_more: FarMore | None


def soak(
    path: Path,
    beds: Sequence[str],
    amount: str,
    *,
    planting: str | None = None,
    kind: SoakKind = "soak",
    method: HandMethod | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter a watering of one bed or several, each of which was given the amount.

    Parameters
    ----------
    path : Path
        The book.
    beds : sequence of str
        As typed.
    amount : str
        As typed: litres, cans, minutes of the bed's tap, a depth; or `advised`, or `half advised`.
    planting : str, optional
        The one planting that was watered.
    kind, method : str, optional
        What it was for, and how it was given; else as the tap has it, or by can when said in cans.
    **written
        now, by, at; sure, where it is meant though somebody else may have entered it, or though it is
        ten times what is usual there.

    Returns
    -------
    list of dict
        One answer a bed.

    Raises
    ------
    InputError
        Anything that cannot be right; then nothing of it is in the book.
    """
    from soakbook.services.soak_answer import answers

    pen = Pen(path, **written)
    with writing(pen) as desk:
        given = _given(desk, beds, amount, planting, (kind, method))
        found = [_doubt(desk, about, soaks) for about, soaks in given]
        if pen.sure:
            given = [
                (about, _meant(soaks, doubt))
                for (about, soaks), doubt in zip(given, found, strict=True)
            ]
        after = desk.enter([entry for _, soaks in given for entry in soaks])
        doubtful = not pen.sure and any(map(any, found))
        handles = history_of(desk.book, after.pages).handles if doubtful else {}
    told = answers(desk, after, given)
    if doubtful:
        for answer, (_, soaks), doubt in zip(told, given, found, strict=True):
            _say(doubt, answer, [handles[one.uid] for one in soaks])
    return told


def doubts(
    path: Path,
    beds: Sequence[str],
    amount: str,
    *,
    planting: str | None = None,
    kind: SoakKind = "soak",
    method: HandMethod | None = None,
    **written: Unpack[Written],
) -> dict[str, Doubt]:
    """What is to be asked, by bed as typed, before a watering is entered; nothing is entered.

    Another may have entered it already, or it is ten times what is usual there.

    Parameters
    ----------
    path, beds, amount, planting, kind, method, **written
        As for `soak`.

    Raises
    ------
    InputError
        As for `soak`.
    """
    with writing(Pen(path, **written)) as desk:
        if _is_advised(amount) and not may_have_twins(desk, desk.beds(beds), desk.when()):
            return {}
        given = _given(desk, beds, amount, planting, (kind, method))
        found = {
            word: _doubt(desk, about, soaks)
            for word, (about, soaks) in zip(beds, given, strict=True)
        }
    return {word: doubt for word, doubt in found.items() if any(doubt)}


def _given(
    desk: Desk,
    beds: Sequence[str],
    amount: str,
    planting: str | None,
    how: tuple[SoakKind, HandMethod | None],
) -> list[tuple[Subject, tuple[Soak, ...]]]:
    """What is to be entered of each bed, before it is in the book."""
    when = desk.when()
    subjects = [subject(desk, bed, planting, when) for bed in desk.beds(beds)]
    for about in subjects:
        about.must_live()
    if _is_advised(amount):
        soaks = _as_advised(desk, subjects, when, _word(amount))
    else:
        parsed = parse_amount(amount)
        check_method(parsed, how[1])
        soaks = [(soak_of(desk, one, parsed, when, how),) for one in subjects]
    return list(zip(subjects, soaks, strict=True))


def _is_advised(amount: str) -> bool:
    return _word(amount) in ADVISED_SHARES


def _word(amount: str) -> str:
    return " ".join(amount.casefold().split())


def _doubt(desk: Desk, about: Subject, soaks: Sequence[Soak]) -> Doubt:
    """Of one bed; where it is several entries it is the round's own dose, which is never too much."""
    return Doubt(twin_of(desk, about, soaks), Habits(desk.pages).far_more(soaks[0]))


def _meant(soaks: tuple[Soak, ...], doubt: Doubt) -> tuple[Soak, ...]:
    return (as_meant(soaks[0], doubt.far_more),) if doubt.far_more else soaks


def _say(doubt: Doubt, answer: Report, handles: Sequence[str]) -> None:
    """Add to the answer what nobody was there to be asked."""
    twin, far = doubt
    if far:
        answer["say"].append(doubted(far, handles[0]))
        answer["changed"]["doubtful"] = as_doubtful(far)
    if twin:
        answer["say"] += _maybe_twice(twin, handles)
        answer["changed"]["maybe_twice"] = [one.uid for one in twin.soaks]


def _maybe_twice(twin: Twin, handles: Sequence[str]) -> list[str]:
    """That it may be in the book twice, and how it is taken back."""
    commands = "\n".join(f"  soakbook book undo {handle}" for handle in handles)
    return [
        f"{twin.say} If that is the same one, it is in the book twice. To take this one back:\n{commands}"
    ]


def check_method(amount: Amount, method: HandMethod | None) -> None:
    """Refuse what contradicts itself: a can is not open for minutes.

    Raises
    ------
    InputError
        An amount in minutes by can.
    """
    if method == "can" and amount.unit in MINUTES:
        right = "minutes are of a hose: give cans or litres, or leave --method out"
        raise InputError("method", method, right)


def soak_of(
    desk: Desk, about: Subject, amount: Amount, when: When, how: tuple[SoakKind, HandMethod | None]
) -> Soak:
    """The entry of an amount given at a moment, before it is in the book; how is its kind and method.

    Raises
    ------
    InputError
        An amount that nobody can have given, or that cannot be told in litres here.
    """
    kind, method = how
    tap, day = desk.tap_of(about.bed), local_day(when, desk.zone)
    measures = Measures(
        can_l=desk.garden.can_l,
        gallon=desk.garden.gallon,
        flow_l_per_min=None if tap is None else flow_on(tap, day),
        area_m2=_area_m2(desk, about),
        tank_l=None if tap is None else tap.tank_l,
    )
    by_can = amount.unit == "can" or tap is None
    usual: HandMethod = "can" if by_can or tap is None else tap.method
    soak = admit(
        Soak,
        **desk.fields(when),
        bed_uid=about.bed.uid,
        planting_uid=about.planting_uid,
        litres=litres(amount, measures, f"amount for {about.bed.key}"),
        typed=amount.typed,
        kind=kind,
        method=method or usual,
    )
    check_each(desk, about, soak)
    return soak


def _area_m2(desk: Desk, about: Subject) -> float:
    """The ground that a depth falls on: the bed's, or that of the named planting's living plants."""
    if about.planting is None:
        return about.bed.area_m2
    cells, _ = cells_m2(desk.pages)
    return cells[about.planting.uid] * sum(count for _, count in about.living)


def _as_advised(
    desk: Desk, subjects: Sequence[Subject], when: When, typed: str
) -> list[tuple[Soak, ...]]:
    """The round's own doses or half of them, one soak a planting; a bed for which it has none is refused.

    Of a bed that was left that day the round has nothing more: who comes after all gives what it would have.
    """
    beds, day = {about.bed.uid for about in subjects}, local_day(when, desk.zone)
    visits = [
        one
        for one in desk.pages.entries
        if isinstance(one, Left)
        and one.bed_uid in beds
        and local_day(one.happened_at, desk.zone) == day
    ]
    morning = _morning_of(desk.without(*visits), when)
    return [_advised(desk, morning, about, when, typed) for about in subjects]


def _morning_of(desk: Desk, when: When) -> "Morning":
    from soakbook.reckoning.advice.rounds import morning_now, morning_on

    day = local_day(when, desk.zone)
    shelf = DawnCache(desk.garden.uid, desk.today)
    if day == desk.today:
        return morning_now(desk.pages, desk.now, shelf=shelf)
    return morning_on(desk.pages, day, shelf=shelf)


def _advised(
    desk: Desk, morning: "Morning", about: Subject, when: When, typed: str
) -> tuple[Soak, ...]:
    call = next((one for one in morning.calls if one.bed.uid == about.bed.uid), None)
    named = about.planting_uid
    going = () if call is None else call.going
    doses = [one for one in going if named in (None, one.judged.planting.uid)]
    if call is None or not doses:
        round_of = f"the round of {saying.date_of(morning.day, desk.today)}"
        right = f"litres, cans or minutes: {round_of} has no water for {about.bed.name}"
        raise InputError("amount", typed, right)
    return tuple(
        admit(
            Soak,
            **desk.fields(when),
            bed_uid=about.bed.uid,
            planting_uid=one.judged.planting.uid,
            litres=one.litres * ADVISED_SHARES[typed],
            typed=typed,
            kind=one.judged.dose_kind or "soak",
            method=call.supply.method,
        )
        for one in doses
    )
