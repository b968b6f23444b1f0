"""Numbers and lists in the words of an answer: litres, minutes, days. Plain text; a page sets it."""

from collections.abc import Sequence
from datetime import date

from soakbook.quantities.dates import month_day, short_day

NEAR_A_HALF = 0.1
WHOLE_FROM = 20
SHORT_DAY_WITHIN_DAYS = 10
HISSING = ("ss", "x", "z", "ch", "sh")
VOWELS = "aeiou"
SHELL_OBEYS = frozenset('"$`\\!')
"""Marks that a shell obeys between double quotes, too."""
PLAIN_MARKS = "_-.,:/@%+="
"""Marks that need no quotes."""


def number(value: float) -> str:
    """`17`, `7½`, `½`, `0.4`, `1,400`: halves where they are near, whole ones from 20."""
    if value >= WHOLE_FROM:
        return f"{value:,.0f}"
    halves = round(value * 2)
    if halves == 0 or abs(value - halves / 2) > NEAR_A_HALF:
        return f"{value:.1f}".removesuffix(".0")
    whole, half = divmod(halves, 2)
    return f"{whole or ''}½" if half else f"{whole}"


def litres(value: float) -> str:
    """`200 L`, `½ L`, `0.4 L`."""
    return f"{number(value)} L"


def minutes(value: float) -> str:
    """`7½ min`, `25 min`, `1 h 50`."""
    if value < WHOLE_FROM / 2:
        return f"{number(max(0.5, round(value * 2) / 2))} min"
    hours, rest = divmod(round(value), 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02}" if rest else f"{hours} h"


def counted(count: int, one: str) -> str:
    """`1 can`, `7 cans`."""
    return f"{count:,} {one}{'' if count == 1 else 's'}"


def plants_of(name: str, count: int) -> str:
    """`1 climbing rose`, `1,200 hornbeam whips`: so many of what is called so."""
    return f"{count:,} {plural(name, count)}"


def plural(name: str, count: int = 2) -> str:
    """`climbing roses` of a climbing rose, for more than one; a name with a plural in it, or a proper one, stays."""
    noun = name.rsplit(" ", 1)[-1]
    plural_already = any(word.endswith("s") and word[-2:] != "ss" for word in name.split())
    if count == 1 or plural_already or not (noun.isalpha() and noun.islower()):
        return name
    if noun.endswith(HISSING):
        return f"{name}es"
    if noun.endswith("y") and noun[-2:-1] not in VOWELS:
        return f"{name[:-1]}ies"
    return f"{name}s"


def names(words: Sequence[str]) -> str:
    """`roses`, `roses and ferns`, `roses, ferns and whips`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def day(when: date, today: date) -> str:
    """`today`, `Fri 16`, `6 June`, `6 June 2032`."""
    if when == today:
        return "today"
    if abs((when - today).days) <= SHORT_DAY_WITHIN_DAYS:
        return short_day(when)
    return date_of(when, today)


def date_of(when: date, today: date) -> str:
    """`6 June`, and `6 June 2030` where it is not of this year."""
    return month_day(when) + (f" {when.year}" if when.year != today.year else "")


def days(value: float) -> str:
    """`1 day`, `2½ days`."""
    said = number(value)
    return f"{said} day{'' if said in ('1', '½') else 's'}"


def area(value_m2: float) -> str:
    """`18.6 m²`: to the tenth, and to the hundredth below one."""
    return f"{value_m2:,.{1 if value_m2 >= 1 else 2}f}".rstrip("0").rstrip(".") + " m²"


def sentence(text: str) -> str:
    """A text with a capital and a full stop."""
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '?')) else '.'}"


def quoted(words: str) -> str:
    """Words as a shell takes them for one, and does nothing else with them: a name may come from a stranger's book."""
    if not SHELL_OBEYS.isdisjoint(words):
        inside = words.replace("'", "'\"'\"'")
        return f"'{inside}'"
    plain = words and all(mark.isalnum() or mark in PLAIN_MARKS for mark in words)
    return words if plain else f'"{words}"'
