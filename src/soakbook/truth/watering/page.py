"""The comparison as a page: two tables, and what may be said of them."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from textwrap import fill

from soakbook.quantities.saying import counted
from soakbook.truth.watering.report import (
    TARGET_ROW,
    EqualRow,
    OutcomeRow,
    Saving,
    SeasonRow,
    Water,
)

WIDTH = 88
WORDS = 41

EQUAL_WORDS = 31

UNDER_PRINTED = (
    "Litres are against the Minnesota calendar's in the same case, in brackets the least and the most of a season's "
    "mean. Short: days on which the plant drank less than 0.8 of what it asked; parched: less than 0.4. Met: what "
    "it drank of what it asked, over the season.",
    "Printed calendars are low doses. In dry seasons the rule uses more water than they do and takes the thirst "
    "away; in wet ones about as much. That it takes a third less than a printed calendar is not so.",
)
UNDER_EQUAL = (
    "Saved water in per cent: the median (quartiles; the worst) of the cases in which a schedule gets there at all, "
    "on at most sixteen times the Minnesota calendar's dose. Every schedule's dose is made larger or smaller until "
    "its plants drink as much of their season as the rule's, less 0.005. The opponent is the thriftiest for that "
    "plant and season, chosen in hindsight, of the Minnesota calendar, daily, every 2nd day, every 3rd day and "
    "weekly; on the right each of them leaves off after rain (5 mm in 2 days, 10 in 3, 25 in 7). Visits: the rule's "
    "less the schedule's.",
    "Truth and rule share the same sums, so these are upper bounds: in a real garden the rule errs in ways that no "
    "truth here does. Doses are as reckoned, before they are rounded to what a hand can pour.",
)


def page_of(water: Water) -> str:
    """The whole page."""
    parts = [
        *_top(water),
        "1. As printed, and by the rule",
        _outcome_table(water.calendars, water.rules),
        *(_filled(one) for one in UNDER_PRINTED),
        "2. At equal thirst: what the rule saves",
        _equal_table(water.equal_thirst, len(water.seasons) * len(water.plantings)),
        *(_filled(one) for one in UNDER_EQUAL),
        *_by_planting(water),
        _claim(water),
        _targets(water),
    ]
    return "\n\n".join(part for part in parts if part)


def _top(water: Water) -> Iterable[str]:
    yield "A SEASON'S WATER, BY THE RULE AND BY THE CALENDAR"
    plantings = "; ".join(water.plantings)
    yield _filled(
        f"{len(water.plantings)} plantings ({plantings}), mulched, on {counted(len(water.seasons), 'measured season')} "
        f"({_years(water.seasons)}) until 15 October; each case the mean of {water.truths} truths drawn from the "
        f"spread of what is not known. The rule is keen unless it says otherwise, sees no forecast and may call "
        f"every day; it reckons with {water.members} members."
    )
    if water.left_out:
        left = "; ".join(f"{one.key}, {one.why}" for one in water.left_out)
        yield _filled(f"Left out: {left}.")


def _years(seasons: Sequence[SeasonRow]) -> str:
    said = []
    for place, own in groupby(seasons, key=lambda one: one.place):
        years = [one.year for one in own]
        whole = len(years) > 1 and years == list(range(years[0], years[-1] + 1))
        said.append(f"{place} {years[0]}-{years[-1]}" if whole else f"{place} {_listed(years)}")
    return ", ".join(said)


def _listed(years: Sequence[int]) -> str:
    return " and ".join(str(year) for year in years)


def _outcome_table(calendars: Sequence[OutcomeRow], rules: Sequence[OutcomeRow]) -> str:
    head = f"{'':{WORDS}}{'litres (seasons)':>18}{'visits':>8}{'short':>7}{'parched':>8}{'met':>6}"
    lines = [head, *(_outcome_line(one, one.words) for one in calendars)]
    return "\n".join(lines + [_outcome_line(one, f"rule, {one.words}") for one in rules])


def _outcome_line(one: OutcomeRow, words: str) -> str:
    least, most = one.litres_ratio_least_season, one.litres_ratio_most_season
    spread = f" ({least:.2f}-{most:.2f})" if round(most - least, 2) else ""
    litres = f"{one.litres_ratio:.2f}{spread:<12}"
    return (
        f"{words:{WORDS}}{litres:>18}{one.visits:8.0f}{one.short_days:7.0f}{one.parched_days:8.1f}"
        f"{one.drunk_share:6.2f}"
    )


def _equal_table(rows: Sequence[EqualRow], cases: int) -> str:
    if not rows:
        return ""
    columns = f"{'saves':>17}{f'of {cases}':>7}{'visits':>7}"
    head = [
        f"{'':{EQUAL_WORDS}}{'the thriftiest schedule':>31}{'one that leaves off after rain':>31}",
        f"{'':{EQUAL_WORDS}}{columns}{columns}",
    ]
    lines = [
        f"{one.words:{EQUAL_WORDS}}{_saving(one.fixed)}{_saving(one.after_rain)}" for one in rows
    ]
    return "\n".join(head + lines)


def _saving(saving: Saving) -> str:
    if saving.median_fraction is None:
        return f"{'none':>17}{0:7}{'':7}"
    numbers = (
        saving.median_fraction,
        saving.lower_quartile_fraction,
        saving.upper_quartile_fraction,
        saving.worst_fraction,
    )
    median, lower, upper, worst = (round(100 * (one or 0.0)) for one in numbers)
    words = f"{median} ({lower}-{upper}; {worst})"
    return f"{words:>17}{saving.reached:7}{saving.visits_more or 0.0:7.0f}"


def _by_planting(water: Water) -> Iterable[str]:
    for row in water.equal_thirst:
        if row.key == TARGET_ROW:
            each = [
                f"{name} {_percent(value)}"
                for name, value in zip(water.plantings, row.by_planting, strict=True)
            ]
            yield _filled(f"By planting, with {row.words}: {'; '.join(each)}.")


def _claim(water: Water) -> str:
    """What may be said, in the numbers that were found."""
    saved = {row.key: row.fixed for row in water.equal_thirst}
    weekly, without = saved.get(TARGET_ROW), saved.get("no_feels")
    if weekly is None or without is None or weekly.median_fraction is None:
        return ""
    worst = f"worst of {weekly.reached} cases {_percent(weekly.worst_fraction)}"
    not_always = "" if (without.worst_fraction or 0) > 0 else ", and not always"
    return _filled(
        f"What may be claimed: at equal thirst, about {_percent(weekly.median_fraction)} less water than the best "
        f"fixed schedule chosen in hindsight ({worst}), given a feel a week; without feels about "
        f"{_percent(without.median_fraction)}{not_always}. What may not: that a garden will use less water than it "
        f"did by a printed calendar."
    )


def _targets(water: Water) -> str:
    if not water.targets:
        return ""
    each = [
        f"{one.what} {_percent(one.reached_fraction, 1)} (at least {_percent(one.at_least_fraction)}: "
        f"{'held' if one.holds else 'NOT HELD'})"
        for one in water.targets
    ]
    return _filled(f"Set out to be held with a feel a week: {', '.join(each)}.")


def _percent(fraction: float | None, digits: int = 0) -> str:
    return "none" if fraction is None else f"{100 * fraction:.{digits}f} %"


def _filled(text: str) -> str:
    return fill(text, WIDTH, break_on_hyphens=False)
