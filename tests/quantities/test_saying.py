"""Numbers in the words of an answer."""

import shlex
from datetime import date

import pytest

from soakbook.quantities import saying


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.0, "0"),
        (0.04, "0"),
        (0.393, "0.4"),
        (0.5, "½"),
        (1.55, "1½"),
        (1.7, "1.7"),
        (2.0, "2"),
        (3.92, "4"),
        (7.5, "7½"),
        (19.96, "20"),
        (20.4, "20"),
        (1400.2, "1,400"),
    ],
)
def test_numbers_are_halves_where_they_are_near(value: float, said: str) -> None:
    assert saying.number(value) == said
    assert saying.litres(value) == f"{said} L"


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.1, "½ min"),
        (2.2, "2 min"),
        (7.6, "7½ min"),
        (14.29, "14 min"),
        (59.6, "1 h"),
        (110.0, "1 h 50"),
    ],
)
def test_minutes_become_hours(value: float, said: str) -> None:
    assert saying.minutes(value) == said


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("climbing rose", "climbing roses"),
        ("shrub", "shrubs"),
        ("cushion grass", "cushion grasses"),
        ("box", "boxes"),
        ("silver birch", "silver birches"),
        ("berry", "berries"),
        ("bay", "bays"),
        ("clematis", "clematis"),
        ("roses from the old bed", "roses from the old bed"),
        ("perennials and grasses", "perennials and grasses"),
        ("The Maple", "The Maple"),
        ("rose 'Iceberg'", "rose 'Iceberg'"),
    ],
)
def test_a_name_has_a_plural_for_more_than_one(name: str, said: str) -> None:
    assert saying.plural(name, 4) == said
    assert saying.plural(name, 1) == name


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2031, 5, 15), "today"),
        (date(2031, 5, 16), "Fri 16"),
        (date(2031, 5, 25), "Sun 25"),
        (date(2031, 6, 6), "6 June"),
        (date(2032, 1, 6), "6 January 2032"),
    ],
)
def test_a_day_is_said_from_today(day: date, said: str) -> None:
    assert saying.day(day, date(2031, 5, 15)) == said


def test_a_date_has_its_year_where_it_is_another() -> None:
    today = date(2031, 5, 15)
    assert saying.date_of(date(2031, 5, 16), today) == "16 May"
    assert saying.date_of(date(2030, 12, 6), today) == "6 December 2030"


def test_days_and_areas_are_rounded_as_they_are_measured() -> None:
    assert [saying.days(value) for value in (1, 0.5, 2.5, 4)] == [
        "1 day",
        "½ day",
        "2½ days",
        "4 days",
    ]
    assert [saying.area(value) for value in (18.5806, 18.0, 0.25, 1234.5)] == [
        "18.6 m²",
        "18 m²",
        "0.25 m²",
        "1,234.5 m²",
    ]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("chapel", "chapel"),
        ("climbing rose", '"climbing rose"'),
        ("Warden's", '"Warden\'s"'),
        ("x;touch y", '"x;touch y"'),
        ("$(touch y)", "'$(touch y)'"),
        ('Tom "the hose"', "'Tom \"the hose\"'"),
        ("it's `touch y`", "'it'\"'\"'s `touch y`'"),
        ("", '""'),
    ],
)
def test_a_shell_takes_quoted_words_for_one_and_does_nothing_with_them(
    words: str, said: str
) -> None:
    assert saying.quoted(words) == said
    assert shlex.split(said) == [words]
