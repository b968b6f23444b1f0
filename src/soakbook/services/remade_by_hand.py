"""What a hand did, found or saw, made anew with something of it said otherwise: checked as when it was entered."""

from typing import cast, get_args

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import (
    ADVISED_SHARES,
    Feel,
    Left,
    Loss,
    Soak,
    SoakKind,
    Wilt,
)
from soakbook.garden.records import FeltClass, HandMethod
from soakbook.garden.tables.causes import cause_key
from soakbook.quantities.amounts import MINUTES, parse_amount
from soakbook.services.correction import NOTHING, WHOLE_BED, Case, Said
from soakbook.services.counts import whole_number
from soakbook.services.feeling import found_by_hand
from soakbook.services.losing import check_standing
from soakbook.services.soak_bounds import check_each
from soakbook.services.soaking import check_method, soak_of


def soak_again(case: Case) -> Soak:
    """A watering; litres stay as they were unless amount or ground are others.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, said, about = cast("Soak", case.old), case.said, case.about
    about.must_live()
    typed = said.get("amount", old.typed)
    anew = "amount" in said or (case.moved and old.typed not in ADVISED_SHARES)
    kind = cast("SoakKind", said.get("kind", old.kind).strip().casefold().replace("-", "_"))
    method = cast(
        "HandMethod | None", said["method"].strip().casefold() if "method" in said else None
    )
    if anew:
        if " ".join(typed.casefold().split()) in ADVISED_SHARES:
            right = "litres, cans or minutes: what the round advised is entered by soakbook soak"
            raise InputError("amount", typed, right)
        amount = parse_amount(typed)
        check_method(amount, method)
        by_other_means = amount.unit == "can" or (old.method == "can" and amount.unit in MINUTES)
        kept = None if by_other_means else old.method
        return soak_of(case.desk, about, amount, case.when, (kind, method or kept))
    same = admit(
        Soak,
        **case.fields(),
        bed_uid=about.bed.uid,
        planting_uid=about.planting_uid,
        litres=old.litres,
        typed=typed,
        kind=kind,
        method=method or old.method,
    )
    check_each(case.desk, about, same)
    return same


def feel_again(case: Case) -> Feel:
    """A feel; `none` drops what was felt in ball or bed.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, said = cast("Feel", case.old), case.said
    ball, bed = _felt(said, "ball", old.ball), _felt(said, "bed", old.bed)
    if ball is None and bed is None:
        raise InputError(
            "feel", NOTHING, "what was felt in ball or bed; soakbook book undo takes a feel back"
        )
    unsure = said.get("unsure", old.unsure)
    return found_by_hand(case.desk, case.about, case.when, (ball, bed, unsure))


def wilt_again(case: Case) -> Wilt:
    """A look at leaves.

    Raises
    ------
    InputError
        It cannot be so.
    """
    about = case.about
    about.must_live()
    return admit(Wilt, **case.fields(), **case.place(), upright=case.old.upright)


def left_again(case: Case) -> Left:
    """A visit without water.

    Raises
    ------
    InputError
        It cannot be so.
    """
    reason = case.said.get("reason", case.old.reason).strip()
    return admit(Left, **case.fields(), **case.place(), reason=reason)


def loss_again(case: Case) -> Loss:
    """Plants lost, at most those that stand without the entry.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, said, about = cast("Loss", case.old), case.said, case.about
    if about.planting is None:
        word = said.get("planting", WHOLE_BED)
        raise InputError("planting", word, "the planting of which they were lost, by its name")
    about.must_live()
    count = whole_number(said["count"], "count", "plants lost") if "count" in said else old.count
    check_standing(case.desk, about.bed, about.planting, count)
    cause = cause_key(said["cause"]) if "cause" in said else old.cause
    return admit(Loss, **case.fields(), **case.place(), count=count, cause=cause)


def _felt(said: Said, name: str, old: FeltClass | None) -> FeltClass | None:
    word = said.get(name)
    if word is None:
        return old
    found = word.strip().casefold()
    if found == NOTHING:
        return None
    if found not in get_args(FeltClass):
        raise InputError(name, word, f"one of {', '.join(get_args(FeltClass))} or {NOTHING}")
    return cast("FeltClass", found)
