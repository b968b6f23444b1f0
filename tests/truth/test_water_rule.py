"""The rule on arrays is the product's: the same plantings, members and soaks, morning by morning, in a book."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import NamedTuple

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry, Feel, MulchLaid, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import FeltClass
from soakbook.reckoning.advice.calling import raw_dose
from soakbook.reckoning.advice.dose import REWET_POURS, rewet_pour_l
from soakbook.reckoning.advice.judging import Judgement, judge
from soakbook.reckoning.advice.needs import delivery_of
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.lanes import middle
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import season_of
from soakbook.truth.watering.compared import book_of, truths_of
from soakbook.truth.watering.crowds import step_on
from soakbook.truth.watering.fingers import classes_felt, taught
from soakbook.truth.watering.following import Book, after_day
from soakbook.truth.watering.minds import minds_of
from soakbook.truth.watering.rule import CLASSES, Felt, reckoning_of, soaks_advised
from soakbook.truth.watering.trial import Trial, garden_of
from tests.truth.water_trials import days, dry_summer, planted

MEMBERS = 16
MORNINGS = 50
FELT_EVERY = 5
WRITTEN = datetime(2018, 1, 1, tzinfo=UTC)


class Kept(NamedTuple):
    """One morning of the arrays: what was felt, advised, and how wet the middle member stood before."""

    day: date
    felt: tuple[FeltClass, FeltClass] | None
    litres: float
    ball_l: float


def on_arrays(book: Book, felt: bool) -> list[list[Kept]]:
    """The first mornings of every planting, in arrays; fingers feel a truth that is given the same."""
    found: list[list[Kept]] = [[] for _ in book.trials]
    truth = truths_of(planted(), days(), 1)
    stores, now = truth.start, reckoning_of(book.crowd)
    minds = minds_of(book.trials, MEMBERS)
    last = int(days().planted.max()) + MORNINGS + 1
    for day in range(last):
        classes = None
        if felt and day and day % FELT_EVERY == 0:
            classes = classes_felt(truth, stores, book.trials, days(), day)
            rows = np.flatnonzero(days().planted < day)
            now, minds = taught(now, minds, rows, classes, days(), book.trials)
        given = soaks_advised(now, days(), day, book.trials, 1.0)
        for row, of_planting in enumerate(found):
            if day > days().planted[row]:
                of_planting.append(
                    Kept(days().came[day].day, said(classes, row), float(given[row]),
                         middle(now.stores.ball_store_l, row))
                )  # fmt: skip
        stores, _ = step_on(truth, days(), day, stores, given)
        now = after_day(now, days(), day, given)
    return [one[:MORNINGS] for one in found]


def said(classes: Felt | None, row: int) -> tuple[FeltClass, FeltClass] | None:
    return None if classes is None else (CLASSES[classes.ball[row]], CLASSES[classes.bed[row]])


def in_a_book(trial: Trial, kept: list[Kept]) -> Iterator[tuple[float, float]]:
    """What the product asks for on the same mornings, after the same entries; and its middle ball, overnight."""
    entries: list[AnyEntry] = [
        MulchLaid(uid="mulch", happened_at=trial.laying.laid_on, written_at=WRITTEN, bed_uid=trial.bed.uid,
                  kind=trial.laying.kind, depth_cm=trial.laying.depth_cm, typed="")
    ]  # fmt: skip
    garden = garden_of(dry_summer())._replace(readiness="keen")
    bare = Pages(garden, (trial.bed,), (trial.planting,), weather=dry_summer().weather)
    for one in kept:
        at = datetime.combine(one.day, time(6, 30), UTC)
        if one.felt:
            ball, bed = one.felt
            entries.append(
                Feel(uid=f"feel {one.day}", happened_at=at, written_at=at, bed_uid=trial.bed.uid, ball=ball, bed=bed)
            )  # fmt: skip
        book = bare._replace(entries=tuple(entries))
        season = season_of(known_on(book, one.day), one.day, MEMBERS)
        assert season is not None
        dawn = run(season)[-1]
        yield asked(judge(dawn, 1)), middle(dawn.stores.ball_store_l, 0)
        if one.litres:
            at += timedelta(minutes=30)
            entries.append(
                Soak(uid=f"soak {one.day}", happened_at=at, written_at=at, bed_uid=trial.bed.uid,
                     planting_uid=trial.planting.uid, litres=one.litres, typed="")
            )  # fmt: skip


def asked(judgement: Judgement) -> float:
    """Litres a plant before rounding."""
    (one,) = judgement.judged
    if one.dose_kind == "re_wet":
        aim, efficiency = delivery_of(judgement.season, 0, judgement.supplies[one.bed.uid])
        short = middle(judgement.need.ball_l, 0)
        return REWET_POURS * rewet_pour_l(one.planting, short, aim, efficiency)
    return raw_dose(judgement, one)[0].p50 if one.verdict == "soak" else 0.0


@pytest.mark.parametrize("felt", [False, True], ids=["no feels", "a feel every fifth day"])
def test_the_rule_on_arrays_asks_for_what_the_product_asks_for(felt: bool) -> None:
    """Litres to a millionth, and the ball it stands on: so squaring up, due rule and dose are the product's own."""
    book = book_of(planted(), days(), MEMBERS)
    for trial, kept in zip(book.trials, on_arrays(book, felt), strict=True):
        assert len(kept) == MORNINGS
        assert sum(one.litres > 0 for one in kept) > 5
        in_book = list(in_a_book(trial, kept))
        assert [ball for _, ball in in_book] == pytest.approx(
            [one.ball_l for one in kept], abs=1e-9
        )
        assert [litres for litres, _ in in_book] == pytest.approx(
            [one.litres for one in kept], abs=1e-6
        )
