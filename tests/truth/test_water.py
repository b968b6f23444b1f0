"""A rose and a perennial in the dry summer of 2018, watered all ways: what must come out whatever the numbers are."""

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import jsonschema
import numpy as np
import pytest

import soakbook.schemas
from soakbook.errors import InputError
from soakbook.reckoning.advice.calendars import PUBLISHED
from soakbook.reckoning.advice.report import as_json
from soakbook.reckoning.simulation.beliefs import UNCERTAIN
from soakbook.truth.water import BEGIN, END, main, water_from, write_into
from soakbook.truth.watering import following
from soakbook.truth.watering.compared import (
    AT_EQUAL_THIRST,
    WHOLE,
    Compared,
    book_of,
    compared,
    truths_of,
)
from soakbook.truth.watering.crowds import Crowd
from soakbook.truth.watering.equal import GRACE, SCALES, Aim, Ladder, schedules_of
from soakbook.truth.watering.fingers import classes_felt
from soakbook.truth.watering.following import followed
from soakbook.truth.watering.outcome import Outcome, outcome_of
from soakbook.truth.watering.page import page_of
from soakbook.truth.watering.report import LeftOutRow, SeasonRow, Water, water_of
from soakbook.truth.watering.rule import Felt
from soakbook.truth.watering.years import seasons
from tests.truth.water_trials import DATA, SMALL, WEEKLY, days, dry_summer, planted

TINY = SMALL._replace(truths=2, members=4, days=40)
SCHEMA = json.loads((Path(soakbook.schemas.__path__[0]) / "water.json").read_text("utf-8"))


@cache
def small() -> Compared:
    return compared(dry_summer(), SMALL)


def report() -> Water:
    return water_of([small()], [], SMALL)


def test_who_knows_everything_lets_plants_thirst_least() -> None:
    """In every planting no more short days than any other way; the more a rule knows, the better plants drink."""
    rows = small().rows
    perfect = rows["perfect"]
    for key, other in rows.items():
        assert (perfect.short_days <= other.short_days).all(), key
    assert perfect.short_days.mean() < 2
    mean = {key: float(one.drunk_share.mean()) for key, one in rows.items()}
    assert mean["none"] < mean["umn_rain"] < mean["umn"] < mean["no_feels"] < mean["feel_7"]
    assert mean["feel_7"] < mean["perfect"]


def test_litres_are_what_the_calendar_gave() -> None:
    """By hand: the rose, planted on 1 April, had 14 + 24 + 3 soaks of 0.29 of 5 L by day 110, 20 July."""
    umn = small().rows["umn"]
    assert umn.litres[0] == pytest.approx((14 + 24 + 3) * 0.29 * 5)
    assert umn.visits[0] == 41
    assert small().rows["none"].litres.tolist() == [0, 0]


def test_leaving_off_after_rain_uses_no_more_and_lets_no_plant_drink_more() -> None:
    rows = small().rows
    assert (rows["umn_rain"].litres < rows["umn"].litres).all()
    assert (rows["umn_rain"].drunk_share <= rows["umn"].drunk_share).all()


def test_the_scaled_dose_reaches_the_thirst_it_was_scaled_to() -> None:
    """The schedule found, run anew at the dose found, lets the truths drink the share asked for, and hardly more."""
    truth = truths_of(planted(), days(), SMALL.truths)
    schedules = schedules_of(planted(), days())
    ladder = Ladder(truth, SMALL.truths, days(), schedules)
    asked = small().rows["no_feels"].drunk_share - GRACE
    (best,) = ladder.thriftiest([Aim(asked, ladder.always)])
    for planting in range(len(planted())):
        given = schedules.soaks_l[:, int(best.schedule[planting]), planting]
        scale = best.litres[planting] / given.sum()
        assert run_at(truth, given * scale, planting).drunk_share[planting] >= asked[planting]
        assert run_at(truth, given * scale * 0.99, planting).drunk_share[planting] < asked[planting]


def test_no_other_schedule_is_thriftier() -> None:
    """Every schedule at every dose of a fine ladder: whichever reaches the share uses no less than was found."""
    truth = truths_of(planted(), days(), SMALL.truths)
    schedules = schedules_of(planted(), days())
    asked = small().rows["no_feels"].drunk_share - GRACE
    found = small().opponents["no_feels"].fixed.litres
    for schedule in np.flatnonzero(schedules.always):
        for scale in np.geomspace(SCALES[0], SCALES[-1], 9):
            soaks = np.repeat(schedules.soaks_l[:, schedule] * scale, SMALL.truths, axis=1)
            one = outcome_of(truth, days(), soaks).by_case(SMALL.truths)
            reached = one.drunk_share >= asked
            assert (one.litres[reached] >= found[reached] * (1 - 1e-9)).all()


def run_at(truth: Crowd, given: np.ndarray, planting: int) -> Outcome:
    """A season with one planting given so much, the other nothing."""
    soaks = np.zeros((len(days()), len(planted())))
    soaks[:, planting] = given
    soaks = np.repeat(soaks, SMALL.truths, axis=1)
    return outcome_of(truth, days(), soaks).by_case(SMALL.truths)


def test_fingers_tell_classes_and_nothing_else_of_the_truth(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two truths told apart by nothing but what a finger finds are given the same when it finds the same."""
    truth = truths_of(planted(), days(), SMALL.truths)
    book = book_of(planted(), days(), SMALL.members)

    def always_moist(*arguments: object) -> Felt:
        found: Felt = classes_felt(*arguments)  # type: ignore[arg-type]
        return found._replace(ball=np.full_like(found.ball, 2), bed=np.full_like(found.bed, 2))

    told = followed(truth, book, days(), WEEKLY).litres.reshape(-1, SMALL.truths)
    monkeypatch.setattr(following, "classes_felt", always_moist)
    untold = followed(truth, book, days(), WEEKLY).litres.reshape(-1, SMALL.truths)
    assert np.ptp(untold, axis=1) == pytest.approx(0, abs=1e-9)
    assert (np.ptp(told, axis=1) > 0.1).all()


def test_truths_differ_from_the_book_and_from_each_other() -> None:
    truth = truths_of(planted(), days(), SMALL.truths)
    book = book_of(planted(), days(), SMALL.members).crowd
    for name in UNCERTAIN:
        drawn = np.asarray(getattr(truth.plot, name)).reshape(len(planted()), SMALL.truths)
        believed = np.asarray(getattr(book.plot, name))
        assert (np.ptp(drawn, axis=1) > 0).all(), name
        assert not np.isin(drawn, believed[:, 1:]).any() or name == "exchange_per_day"


def test_the_same_seasons_give_the_same_report() -> None:
    first, again = (water_of([compared(dry_summer(), TINY)], [], TINY) for _ in range(2))
    assert first == again


def test_the_report_keeps_to_its_schema() -> None:
    plain = json.loads(json.dumps(as_json(report()), allow_nan=False))
    jsonschema.validate(plain, SCHEMA)
    assert len(plain["cases"]) == 2 * (6 + 3)
    umn = next(one for one in plain["calendars"] if one["key"] == "umn")
    assert umn["litres_ratio"] == umn["litres_ratio_least_season"] == 1.0


def test_savings_are_those_of_the_cases() -> None:
    """The report's median, worst and reach worked out anew from its own cases."""
    found = report()
    row = next(one for one in found.equal_thirst if one.key == "feel_7")
    saved = [
        1 - one.litres / one.fixed_litres
        for one in found.cases
        if one.row == "feel_7" and one.fixed_litres
    ]
    assert row.fixed.reached == len(saved) == 2
    assert row.fixed.median_fraction == pytest.approx(np.median(saved), abs=1e-4)
    assert row.fixed.worst_fraction == pytest.approx(min(saved), abs=1e-4)
    assert [one.holds for one in found.targets] == [
        one.reached_fraction is not None and one.reached_fraction >= one.at_least_fraction
        for one in found.targets
    ]


def test_the_page_says_what_may_not_be_claimed() -> None:
    page = page_of(report())
    assert max(map(len, page.splitlines())) <= 100
    words = " ".join(page.split())
    assert "Truth and rule share the same sums, so these are upper bounds" in words
    assert "Printed calendars are low doses" in words
    assert "That it takes a third less than a printed calendar is not so" in words
    assert "(at least 30 %: " in words


def test_the_page_is_put_between_its_marks(tmp_path: Path) -> None:
    text = tmp_path / "README.md"
    text.write_text(f"before\n{BEGIN}old\n{END}\nafter\n", encoding="utf-8")
    write_into(text, "new")
    assert text.read_text(encoding="utf-8") == f"before\n{BEGIN}new\n{END}\nafter\n"
    text.write_text("no marks\n", encoding="utf-8")
    with pytest.raises(InputError, match="water -->"):
        write_into(text, "new")


def test_the_command_prints_the_page_or_the_report(
    capsys: pytest.CaptureFixture[str],
) -> None:
    typed = ["--data", str(DATA), "--seasons", "debilt-2018"]
    assert main(typed, TINY) == 0
    printed = capsys.readouterr()
    assert printed.out.startswith("A SEASON'S WATER")
    assert printed.err.startswith("1 season in ")
    assert main([*typed, "--json"], TINY) == 0
    assert json.loads(capsys.readouterr().out)["schema"] == "soakbook.water/1"


def test_a_wrong_season_is_one_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--data", str(DATA), "--seasons", "debilt-1066"]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "debilt-1066" in printed.err
    assert "Traceback" not in printed.err


def test_processes_change_nothing() -> None:
    """Two seasons, each in a process of its own, and both in this one."""
    wanted, size = (
        ("debilt-2018", "debilt-2019"),
        TINY._replace(rules=SMALL.rules[:2]),
    )
    assert water_from(DATA, wanted, size, 2) == water_from(DATA, wanted, size, 1)


def test_readme_tells_of_the_seasons_and_rows_there_are() -> None:
    """Its block is what the command prints over all seasons: the head as it would be now, and every row in order."""
    text = (DATA.parent / "README.md").read_text(encoding="utf-8")
    block = text.partition(BEGIN)[2].partition(END)[0]
    kept, left_out = seasons(DATA)
    whole = replace(
        report(),
        seasons=tuple(SeasonRow(one.key, one.place.name, one.year, 0.0, 0.0) for one in kept),
        left_out=tuple(LeftOutRow(*one) for one in left_out),
        plantings=tuple(kind.name for kind in WHOLE.kinds),
        truths=WHOLE.truths,
        members=WHOLE.members,
        equal_thirst=(),
        targets=(),
    )
    head, _, _ = page_of(whole).partition("1. As printed")
    assert block.startswith(head)
    first, _, second = block.partition("2. At equal thirst")
    rows = [one.words for one in PUBLISHED] + [f"rule, {one.words}" for one in WHOLE.rules]
    assert [line[:41].rstrip() for line in first.splitlines() if line[:41].rstrip() in rows] == rows
    equal = [one.words for one in WHOLE.rules if one.key in AT_EQUAL_THIRST]
    assert [word for word in equal if f"\n{word:31}" in second] == equal
