"""A dry spell in a gardener's words. What is counted, and how, is in `spells`."""

from soakbook.garden.runs import ONE_DAY
from soakbook.garden.spells import Spell
from soakbook.quantities.saying import date_of, days

RUN_WORTH_SAYING_DAYS = 2
OLD_WORDS = "In the old words, out of official use since 1961"


def spell_words(spell: Spell) -> tuple[str, ...]:
    """What can be said of a spell, a short sentence each: useful rain, the dry run, the old words, the balance."""
    said = (_useful(spell), _run(spell), _old_words(spell), _balance(spell))
    return tuple(sentence for sentence in said if sentence)


def _useful(spell: Spell) -> str:
    if spell.useful_rain_on == spell.morning:
        return "Useful rain fell today."
    if spell.known_from is None:
        return "Yesterday's rain is not known, so dry days are not counted."
    if spell.useful_rain_on is None:
        return (
            f"No useful rain (5 mm in two days) as far back as rain is known without a gap, "
            f"to {date_of(spell.known_from, spell.morning)}."
        )
    if spell.useful_rain_on == spell.morning - ONE_DAY:
        return "Useful rain fell yesterday."
    last = date_of(spell.useful_rain_on, spell.morning)
    return f"No useful rain (5 mm in two days) for {days(spell.no_useful_rain_days)}: the last fell on {last}."


def _run(spell: Spell) -> str:
    if spell.dry_from is None or spell.dry_days < RUN_WORTH_SAYING_DAYS:
        return ""
    since = date_of(spell.dry_from, spell.morning)
    if spell.dry_from == spell.known_from:
        return f"At least {spell.dry_days} days running with less than 1 mm, {since} being the first known."
    return f"{spell.dry_days} days running with less than 1 mm, since {since}."


def _old_words(spell: Spell) -> str:
    if not spell.holds:
        return ""
    words = ", ".join(f"{one.word} for {days(one.days)}" for one in spell.holds)
    return f"{OLD_WORDS}: {words}."


def _balance(spell: Spell) -> str:
    if spell.deficit_mm is None or spell.deficit_since is None:
        return ""
    since = f"Since {date_of(spell.deficit_since, spell.morning)}"
    apart = round(abs(spell.deficit_mm))
    if not apart:
        said = f"{since} rain has brought about what the air asked for"
    elif spell.deficit_mm > 0:
        said = f"{since} the air has asked for {apart} mm more than rain brought"
    else:
        said = f"{since} rain has brought {apart} mm more than the air asked for: wet"
    missing = spell.deficit_days_missing
    return f"{said}, {days(missing)} not known left out." if missing else f"{said}."
