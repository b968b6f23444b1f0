"""What is told that gives nobody a bed: a dry spell, heat, rules on watering, the week."""

from collections.abc import Iterator
from datetime import date, timedelta

from soakbook.reminders.asked import Asked, Saying
from soakbook.reminders.texts.dry import DRY_FROM_DAYS, dry_since, dry_text
from soakbook.reminders.texts.heat import heat_text
from soakbook.reminders.texts.rule import Edge, rule_text
from soakbook.reminders.texts.week import week_text

RULE_AHEAD = timedelta(days=3)
RULE_BEHIND = timedelta(days=7)
"""A rule that was entered when it had begun is told for so long yet."""
HEAT_AGAIN_DAYS = 3
"""A spell whose beginning is forecast anew within so many days is the same. This and the others: common practice, no
source."""


def dry(asked: Asked) -> Iterator[Saying]:
    """A spell without useful rain while roots are in the ball: when it sets in, and every ten days of it.

    Of beds that will want water before long: in a mild winter small rains do.
    """
    since = dry_since(asked.sight)
    if since is None:
        return
    about = since.isoformat()
    if any(one.about == about for one in asked.told_of("dry", DRY_FROM_DAYS)):
        return
    calls = [call for call in asked.sight.rooted_in_balls() if call.wanted_on]
    if asked.setting.whom in ("keeper", "next"):
        shares = list(asked.dealt(calls))
    else:
        shares = [(whom, list(calls)) for whom in asked.everyone()] if calls else []
    for whom, theirs in shares:
        yield Saying(whom, dry_text(asked.sight, theirs), about=about)


def heat(asked: Asked) -> Iterator[Saying]:
    """Heat that begins tomorrow, or that has begun unsaid and is not over with today."""
    ahead, sight = asked.sight.heat, asked.sight
    if ahead is None or not (ahead.eve or ahead.first <= asked.day <= ahead.last):
        return
    if asked.day == ahead.last and not ahead.open_ended:
        return
    since = ahead.first - timedelta(days=HEAT_AGAIN_DAYS)
    if any(one.what == "heat" and since <= one.for_day <= ahead.last for one in asked.told):
        return
    if not sight.in_heat:
        return
    for whom in asked.everyone():
        yield Saying(whom, heat_text(sight), for_day=ahead.first)


def rule(asked: Asked) -> Iterator[Saying]:
    """Rules that begin within three days or have begun unsaid, and those whose last day it is."""
    for one in asked.sight.pages.restrictions:
        news_until = max(one.first, min(one.first + RULE_BEHIND, one.last - timedelta(days=1)))
        edges: list[tuple[Edge, date, bool]] = [
            ("begins", one.first, one.first - RULE_AHEAD <= asked.day <= news_until),
            ("ends", one.last, asked.day == one.last and one.first < one.last),
        ]
        for edge, day, is_near in edges:
            about = f"{one.uid} {edge}"
            if not is_near or any(
                (told.what, told.about, told.for_day) == ("rule", about, day) for told in asked.told
            ):
                continue
            for whom in asked.everyone():
                yield Saying(whom, rule_text(asked.sight, one, edge), about, for_day=day)


def week(asked: Asked) -> Iterator[Saying]:
    """The week gone by and the one to come."""
    text = week_text(asked.sight)
    if text is not None:
        for whom in asked.everyone():
            yield Saying(whom, text)
