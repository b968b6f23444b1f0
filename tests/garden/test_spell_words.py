"""A dry spell in a gardener's words."""

from datetime import date

from soakbook.garden.spell_words import spell_words
from soakbook.garden.spells import Holding, Spell

MORNING = date(2031, 5, 14)
DRY = Spell(
    morning=MORNING,
    known_from=date(2031, 2, 1),
    useful_rain_on=date(2031, 3, 5),
    no_useful_rain_days=69,
    dry_from=date(2031, 4, 28),
    dry_days=16,
    holds=(
        Holding("dry spell", date(2031, 4, 28), 16),
        Holding("partial drought", date(2031, 3, 6), 69),
    ),
    deficit_since=date(2031, 3, 1),
    deficit_mm=138.4,
    deficit_days_missing=0,
)


def test_a_dry_spring() -> None:
    assert spell_words(DRY) == (
        "No useful rain (5 mm in two days) for 69 days: the last fell on 5 March.",
        "16 days running with less than 1 mm, since 28 April.",
        "In the old words, out of official use since 1961: dry spell for 16 days, partial drought for 69 days.",
        "Since 1 March the air has asked for 138 mm more than rain brought.",
    )


def test_after_rain_little_is_said() -> None:
    wet = DRY._replace(
        useful_rain_on=date(2031, 5, 13), no_useful_rain_days=0, dry_from=None, dry_days=0, holds=()
    )
    assert spell_words(wet._replace(deficit_mm=-12.0)) == (
        "Useful rain fell yesterday.",
        "Since 1 March rain has brought 12 mm more than the air asked for: wet.",
    )
    assert spell_words(wet._replace(useful_rain_on=MORNING, deficit_mm=None)) == (
        "Useful rain fell today.",
    )
    level = spell_words(wet._replace(deficit_mm=-0.3, deficit_days_missing=2))[-1]
    assert (
        level
        == "Since 1 March rain has brought about what the air asked for, 2 days not known left out."
    )


def test_a_record_too_short_says_so() -> None:
    first = date(2031, 4, 28)
    short = DRY._replace(
        known_from=first, useful_rain_on=None, no_useful_rain_days=16, holds=(), deficit_mm=None
    )
    assert spell_words(short) == (
        "No useful rain (5 mm in two days) as far back as rain is known without a gap, to 28 April.",
        "At least 16 days running with less than 1 mm, 28 April being the first known.",
    )


def test_without_yesterdays_rain_nothing_is_counted() -> None:
    unknown = Spell(MORNING, None, None, 0, None, 0, (), date(2031, 3, 1), 20.0, 1)
    assert spell_words(unknown) == (
        "Yesterday's rain is not known, so dry days are not counted.",
        "Since 1 March the air has asked for 20 mm more than rain brought, 1 day not known left out.",
    )
