"""What is typed wrong: field, value and what would be right are named, and the book is as it was.

Weather files that cannot be are in `test_weather_files`, books that are none in `test_mornings`.
"""

from collections.abc import Callable
from pathlib import Path

import pytest

from soakbook.services import entries, setup
from soakbook.services.mornings import why_report
from tests.services.looking import NOW, Refused

BED_ENTRIES: dict[str, Callable[..., object]] = {
    "soak": lambda path, beds, **more: entries.soak(path, beds, "17l", **more),
    "feel": lambda path, beds, **more: entries.feel(path, beds, bed="moist", **more),
    "wilt": entries.wilt,
    "left": lambda path, beds, **more: entries.left(path, beds, "no time", **more),
}


@pytest.mark.parametrize("entry", BED_ENTRIES.values(), ids=BED_ENTRIES)
def test_an_unknown_bed_is_answered_with_the_nearest(
    garden: Path, entry: Callable[..., object]
) -> None:
    with Refused(garden, "bed", "chapl", "did you mean chapel?", "dole"):
        entry(garden, ["dole", "chapl"], now=NOW)


@pytest.mark.parametrize("entry", BED_ENTRIES.values(), ids=BED_ENTRIES)
def test_an_unknown_planting_is_answered_with_those_there_are(
    garden: Path, entry: Callable[..., object]
) -> None:
    with Refused(garden, "planting of Chapel Wall", "tulip", "climbing rose, clematis"):
        entry(garden, ["chapel"], planting="tulip", now=NOW)


@pytest.mark.parametrize("entry", BED_ENTRIES.values(), ids=BED_ENTRIES)
def test_a_day_before_the_planting_is_refused(garden: Path, entry: Callable[..., object]) -> None:
    with Refused(garden, "at", "5may", "a day from 6 May 2031", "Schoolroom"):
        entry(garden, ["school"], at="5may", now=NOW)


@pytest.mark.parametrize("entry", BED_ENTRIES.values(), ids=BED_ENTRIES)
def test_a_day_before_the_named_planting_is_refused(
    garden: Path, entry: Callable[..., object]
) -> None:
    """The roses stood in that bed on 21 March, the clematis came a day later."""
    with Refused(garden, "at", "21mar", "a day from 22 March 2031", "clematis"):
        entry(garden, ["chapel"], planting="clematis", at="21mar", now=NOW)


@pytest.mark.parametrize("entry", BED_ENTRIES.values(), ids=BED_ENTRIES)
@pytest.mark.parametrize("when", ["06:31", "2031-05-16", "2031-05-15T09:00"])
def test_what_has_not_come_is_refused(
    garden: Path, entry: Callable[..., object], when: str
) -> None:
    with Refused(garden, "at", when, "not come yet"):
        entry(garden, ["chapel"], at=when, now=NOW)


@pytest.mark.parametrize("entry", BED_ENTRIES.values(), ids=BED_ENTRIES)
def test_a_day_that_reads_two_ways_is_refused(garden: Path, entry: Callable[..., object]) -> None:
    with Refused(garden, "at", "1/4", "write 07:30", "1apr"):
        entry(garden, ["chapel"], at="1/4", now=NOW)


def test_a_loss_before_the_planting_is_refused(garden: Path) -> None:
    with Refused(garden, "at", "5may", "a day from 6 May 2031"):
        entries.loss(garden, "school", "perennial", "1", "drought", at="5may", now=NOW)


def test_minutes_need_a_tap_with_a_flow(garden: Path) -> None:
    """Orchard Ride has no tap; that of Yard was never tested."""
    with Refused(garden, "amount for ride", "12min", "minutes need a tap with a flow"):
        entries.soak(garden, ["ride"], "12min", now=NOW)
    setup.plant(garden, "yard", "rose", "2", now=NOW, pot="5l", on="1may")
    with Refused(garden, "amount for yard", "12min", "minutes need a tap with a flow"):
        entries.soak(garden, ["yard"], "12min", now=NOW)


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("-3l", "nothing below 0"),
        ("17", "say of what"),
        ("1,5l", "write 1.5l"),
        ("17 pints", "write 208l"),
        ("", "write 208l"),
    ],
)
def test_an_amount_that_cannot_be_read_is_refused(garden: Path, typed: str, right: str) -> None:
    with Refused(garden, "amount", typed, right):
        entries.soak(garden, ["chapel"], typed, now=NOW)


def test_no_water_is_no_soak(garden: Path) -> None:
    with Refused(garden, "amount for chapel", "0l", "more than 0"):
        entries.soak(garden, ["chapel"], "0l", now=NOW)


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("-3mm", "nothing below 0"),
        ("900mm", "from 0 to 500 mm"),
        ("15,6mm", "write 15.6mm"),
        ("15.6", "say of what"),
        ("40in", "from 0 to 500 mm"),
    ],
)
def test_rain_that_cannot_be_is_refused(garden: Path, typed: str, right: str) -> None:
    with Refused(garden, "rain", typed, right):
        entries.rain(garden, typed, now=NOW)


def test_a_word_that_is_no_class_is_refused(garden: Path) -> None:
    with Refused(garden, "ball", "crisp", "one of dust, dry, moist, wet, sour"):
        entries.feel(garden, ["chapel"], ball="crisp", now=NOW)  # type: ignore[arg-type]


def test_two_beds_that_a_word_could_mean_are_named(garden: Path) -> None:
    setup.bed(garden, "chapel yard", now=NOW, area="6m2")
    with Refused(garden, "bed", "chap", "it could be chapel or chapel yard"):
        why_report(garden, "chap", now=NOW)
