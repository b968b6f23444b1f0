"""Which beds are told to whom: the round, rain that did not come, go and feel, no word in the evening."""

from collections.abc import Collection, Iterator
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from soakbook.garden.records import Uid
from soakbook.garden.reminding import Notice
from soakbook.reckoning.advice.report import Call
from soakbook.reminders.asked import Asked, Saying
from soakbook.reminders.heard import heard_on
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts import beds as texts
from soakbook.reminders.wall_times import moment_of
from soakbook.reminders.whose import dealt, head_of, next_to, uids_of

FEEL_AGAIN_DAYS = 7
UNHEARD_AGAIN_DAYS = 3
"""How long after a bed that can wait, or is past its last safe morning, was asked after it is asked after again. Both:
common practice, no source."""


def promise(asked: Asked) -> Iterator[Saying]:
    """Beds that were left for rain that did not come; none that the day's other message has given."""
    broken = {one.bed for one in asked.sight.round.findings if one.kind == "promise_broken"}
    calls = [call for call in asked.not_given() if call.bed in broken and call.litres > 0]
    for whom, theirs in asked.dealt(calls):
        yield Saying(
            whom, texts.promise_text(asked.sight, theirs, asked.name(whom)), beds=asked.uids(theirs)
        )


def round_today(asked: Asked) -> Iterator[Saying]:
    """Beds to water, each given to one person; one that the day's other message has given is not given again."""
    watered = [call for call in asked.not_given() if call.litres > 0]
    for whom, theirs in asked.dealt(watered):
        text = texts.round_text(asked.sight, theirs, asked.name(whom))
        yield Saying(whom, text, beds=asked.uids(theirs))


def feel(asked: Asked) -> Iterator[Saying]:
    """Beds only to be felt, each of them once a week."""
    lately = {uid for one in asked.told_of("feel", FEEL_AGAIN_DAYS) for uid in one.beds}
    calls = [
        call
        for call in asked.not_given()
        if call.litres == 0 and asked.sight.uid(call) not in lately
    ]
    for whom, theirs in asked.dealt(calls):
        yield Saying(whom, texts.feel_text(asked.sight, theirs), beds=asked.uids(theirs))


def unheard(asked: Asked) -> Iterator[Saying]:
    """Beds of the morning that nobody has answered for, up to their last safe morning: the next person, then the head.

    Nobody is asked twice about a bed on one day, nor about one that wants no water any more: rain came, or it was laid
    to rest. Where it is asked before the round nothing can be unheard of.
    """
    zone = ZoneInfo(asked.sight.pages.garden.timezone)
    round_at = moment_of(asked.day, asked.settings["round"].hour, zone)
    heard = heard_on(asked.sight.pages, asked.day)
    wanted = {asked.sight.uid(call) for call in asked.sight.round.calls if call.litres > 0}
    wanted |= heard.could_not.keys()  # the round takes it for left until tomorrow
    wanted -= heard.answered
    if not wanted or round_at >= asked.instant.at:
        return
    morning = asked.sight_at(round_at)
    of_whom: dict[Uid, list[Call]] = {}
    for call in morning.round.calls:
        if call.order is None or call.litres <= 0 or call.dropped:
            continue
        uid = morning.uid(call)
        if uid not in wanted:
            continue
        whom = _whom_next(asked, morning, call, heard.could_not.get(uid, ()))
        if whom is not None and _is_worth_it(asked, uid, call.last_safe):
            of_whom.setdefault(whom, []).append(call)
    for whom, calls in of_whom.items():
        uids = tuple(morning.uid(call) for call in calls)
        names = {name for uid in uids for name in heard.could_not.get(uid, ())}
        text = texts.unheard_text(asked.sight, morning, calls, names, asked.name(whom))
        yield Saying(whom, text, about=_about(asked), beds=uids)


def _whom_next(asked: Asked, morning: Sight, call: Call, could_not: Collection[str]) -> Uid | None:
    """Who is asked after a bed now, at the last step the head alone: nobody who had it, was asked, or could not."""
    uid, pages = morning.uid(call), asked.sight.pages
    told = {one.whom for one in asked.given_today() if uid in one.beds and not _is_from(asked, one)}
    told |= uids_of(could_not, pages)
    told |= set(dealt([morning.bed(call.bed)], asked.settings["round"], pages, asked.day))
    if asked.instant.step == 0:
        return next_to(told, asked.setting, pages, asked.day)
    head = head_of(pages)
    return None if head in told else head


def _about(asked: Asked) -> str:
    return f"step {asked.instant.step + 1}"


def _is_from(asked: Asked, one: Notice) -> bool:
    """Whether it was decided at this step or a later one: whoever decides it anew asks the same people again."""
    return one.what == "unheard" and one.about >= _about(asked)


def _is_worth_it(asked: Asked, uid: Uid, last_safe: date | None) -> bool:
    """Whether tomorrow's evening would be too late; one that can wait longer, or cannot any more, once in some days."""
    if last_safe is not None and asked.day <= last_safe <= asked.day + timedelta(days=1):
        return True
    lately = asked.told_of("unheard", UNHEARD_AGAIN_DAYS)
    return not any(uid in one.beds for one in lately if one.for_day < asked.day)
