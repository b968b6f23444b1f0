"""What is asked at a terminal: before something odd is entered, whether it is meant; and on after limp leaves.

Every answer is entered by the service that its own command calls, when it is given: whoever breaks off
has lost nothing. Without a terminal, or for a machine, nothing is asked.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, cast

from soakbook.cli import options, paper
from soakbook.cli.answers import broken_off
from soakbook.cli.options import FELT, Entered
from soakbook.cli.paper import Report
from soakbook.cli.told_page import say
from soakbook.errors import InputError
from soakbook.garden.entries import SoakKind
from soakbook.garden.records import FeltClass, HandMethod

if TYPE_CHECKING:
    from soakbook.services.far_more import FarMore
    from soakbook.services.same_soak import Twin

ASKABLE = ("ball", "bed", "tug")
"""Steps that somebody standing there can answer; dusk and dawn have to come first."""
OF_HOW_MUCH = ("amount", "kind", "in_bed", "planting")
"""What of a correction can make a watering far more than usual there."""

YES, NO = ("y", "yes"), ("n", "no", "both", "no, both")
NOTHING_ENTERED, NOTHING_CHANGED = "Nothing is entered.", "Nothing is changed."
ENTERED_SO_FAR = "What was answered is in the book."
"""Said where somebody breaks off instead of answering."""
LEAVES_OFF = "Enter leaves a question off; what is answered is in the book."


def make_sure(entered: Entered, ball: FeltClass | None, bed: FeltClass | None) -> None:
    """Ask whether a feel that contradicts itself is meant so.

    Raises
    ------
    InputError
        It is not; then nothing is entered.
    """
    if ball is None or bed is None or not _to_be_asked(entered):
        return
    from soakbook.services.feeling import contradiction

    odd = contradiction(ball, bed)
    if not odd:
        return
    with broken_off(lambda: NOTHING_ENTERED):
        is_meant = paper.confirmed(f"{odd} Enter both?")
    if not is_meant:
        raise InputError("feel", f"ball {ball}, bed {bed}", "felt again, in another of them")


def as_meant(
    entered: Entered,
    beds: Sequence[str],
    amount: str,
    *,
    kind: SoakKind,
    method: HandMethod | None,
) -> tuple[list[str], bool]:
    """The beds whose watering is to be entered, as somebody there says; and whether anybody was asked.

    Not one that somebody else has entered already, nor one that is ten times the usual by a slip.

    Raises
    ------
    InputError
        A watering that cannot be right.
    """
    if not _to_be_asked(entered):
        return list(beds), False
    from soakbook.services.entries import doubts

    found = doubts(
        entered.path,
        beds,
        amount,
        planting=entered.planting,
        kind=kind,
        method=method,
        at=entered.at,
        by=entered.by,
        now=options.now(),
    )
    left = list(beds)
    with broken_off(lambda: NOTHING_ENTERED):
        for word, (twin, far) in found.items():
            if far and not _so_much(far):
                left.remove(word)
                paper.put_text(f"{far.place}: nothing entered.")
            elif twin and _the_same(twin):
                left.remove(word)
                paper.put_text(
                    f"{twin.bed.name}: nothing entered; what was entered already stands."
                )
    return left, bool(found)


def amended_as_meant(entered: Entered, handle: str, said: Mapping[str, Any]) -> tuple[bool, bool]:
    """Whether a correction is to be entered, as somebody there says; and whether anybody was asked.

    Raises
    ------
    InputError
        A correction that cannot be right.
    """
    if not _to_be_asked(entered) or said.keys().isdisjoint(OF_HOW_MUCH):
        return True, False
    from soakbook.services.amending import far_more_amended

    far = far_more_amended(
        entered.path, handle, dict(said), at=entered.at, by=entered.by, now=options.now()
    )
    if far is None:
        return True, False
    with broken_off(lambda: NOTHING_CHANGED):
        is_meant = _so_much(far)
    if not is_meant:
        paper.put_text(f"{far.place}: nothing changed.")
    return is_meant, True


def ask_on(entered: Entered, answers: Sequence[Report]) -> None:
    """Ask what comes next after limp leaves, bed by bed, until there is one thing to do or it is left off."""
    if not _to_be_asked(entered):
        return
    open_ones = [one for one in answers if _step(one) in ASKABLE]
    if not open_ones:
        return
    paper.put_text(LEAVES_OFF)
    with broken_off(lambda: ENTERED_SO_FAR):
        for first in open_ones:
            answer: Report | None = first
            while answer is not None and _step(answer) in ASKABLE:
                about = f"{answer['bed']}: " if len(answers) > 1 else ""
                answer = _next(entered, answer, about + answer["changed"]["triage"]["ask"])


def _so_much(far: "FarMore") -> bool:
    return paper.confirmed(f"{far.place}: {far.say}. Enter it?")


def _the_same(twin: "Twin") -> bool:
    """Whether it is the same soak; asked again until it is yes or no."""
    question = f"{twin.bed.name}: {twin.say} The same one? (yes; or no, both)"
    while True:
        word = paper.ask(question, "yes").strip().casefold()
        if word in YES or word in NO:
            return word in YES
        paper.put_error(str(InputError("answer", word, "yes, or no for both")))


def _to_be_asked(entered: Entered) -> bool:
    return not entered.as_json and paper.somebody_there()


def _step(answer: Report) -> str | None:
    """The question an answer ends in."""
    triage = answer["changed"].get("triage")
    return triage["step"] if triage else None


def _next(entered: Entered, answer: Report, question: str) -> Report | None:
    """The answer to the next question, said; None where it was left off, or where it is the last one."""
    step = _step(answer)
    if step == "tug":
        _left(entered, answer["bed"], question)
        return None
    found = _felt(question, "bed" if step == "bed" else "ball")
    if found is None:
        return None
    from soakbook.services.entries import feel

    try:
        told: Report = feel(
            entered.path,
            [answer["bed"]],
            ball=None if step == "bed" else found,
            bed=found if step == "bed" else None,
            planting=entered.planting,
            at=entered.at,
            by=entered.by,
            now=options.now(),
        )[0]
    except (
        InputError
    ) as error:  # what went before is in the book, so the asking ends and the command does not fail
        paper.put_error(str(error))
        return None
    say(told, as_json=False)
    return told


def _felt(question: str, field: str) -> FeltClass | None:
    """What a finger found; asked again until it is a class, None where it is left off."""
    while True:
        word = paper.ask(f"{question} ({FELT.listed})", "")
        if not word.strip():
            return None
        try:
            return cast("FeltClass", FELT.read(word, field))
        except InputError as error:
            paper.put_error(str(error))


def _left(entered: Entered, bed: str, question: str) -> None:
    """What was seen at the root or in the wind, entered as why a bed is left; asked again until it can be right."""
    from soakbook.services.entries import left

    while (reason := paper.ask(f"{question} (in a few words)", "")).strip():
        try:
            told = left(
                entered.path,
                [bed],
                reason,
                planting=entered.planting,
                at=entered.at,
                by=entered.by,
                now=options.now(),
            )
        except InputError as error:
            paper.put_error(str(error))
        else:
            say(told, as_json=False)
            return
