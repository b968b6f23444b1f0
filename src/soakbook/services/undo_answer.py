"""What undoing changed: what was taken back or stands again, read back in plants and minutes."""

from collections.abc import Callable, Mapping, Sequence
from functools import cache, partial

from soakbook.garden.entries import AnyEntry, BedEntry, Catch, Kept, Soak, Void, When
from soakbook.garden.records import Uid
from soakbook.quantities.saying import quoted
from soakbook.services.amend_answer import NOBODY_STOOD, OF_THIS_MORNING, about, read_back
from soakbook.services.desk import Desk
from soakbook.services.entry_words import at_a_time
from soakbook.services.outlook import Outlook, outlook, says
from soakbook.services.round_changes import changed_calls, changes_say
from soakbook.services.soak_answer import Given, how_given
from soakbook.services.told import Report, told
from soakbook.store.changes import Change

SEVERAL = "{} entries were written together."


def undone(
    desk: Desk,
    after: Desk,
    pairs: Sequence[tuple[Kept, Kept]],
    handles: Mapping[Uid, str],
    logged: Sequence[Change],
) -> Report:
    """The answer to undoing.

    Parameters
    ----------
    desk, after : Desk
        Before and after it.
    pairs : sequence of tuple
        Each entry that was undone, and what is written in its place.
    handles : mapping
        Uid -> handle.
    logged : sequence of Change
        What was changed of lasting things, where a jar is among the entries.
    """
    calls = changed_calls(desk.pages, after.pages, after.now)
    look = cache(partial(outlook, after.pages, after.now))  # one reckoning a sitting
    say = [SEVERAL.format(len(pairs))] if len(pairs) > 1 else []
    for old, new in pairs:
        say += [
            *_undone(desk, after, (old, new), handles, look),
            _share_typed_before(old, new, logged),
        ]
    say += [changes_say(calls, OF_THIS_MORNING), "Not meant? soakbook book undo, once more."]
    beds = {one.bed_uid for pair in pairs for one in pair if isinstance(one, BedEntry)}
    keys = [bed.key for bed in after.pages.beds if bed.uid in beds]
    changed = {
        "entries": [new.uid for _, new in pairs],
        "supersedes": [old.uid for old, _ in pairs],
        "handles": [handles[new.uid] for _, new in pairs],
        "taken_back": [old.uid for old, new in pairs if isinstance(new, Void)],
        "stand_again": [new.uid for _, new in pairs if not isinstance(new, Void)],
        "calls_changed": list(calls),
    }
    return told("undo", keys[0] if len(keys) == 1 else None, say, changed)


def _undone(
    desk: Desk,
    after: Desk,
    pair: tuple[Kept, Kept],
    handles: Mapping[Uid, str],
    look: Callable[[When], Outlook],
) -> list[str]:
    old, new = pair
    if not isinstance(new, Void):
        how = "Brought back" if isinstance(old, Void) else "As before the correction"
        words = f"{how}, now {handles[new.uid]}: {at_a_time(new, after.pages)}."
        left_out = () if isinstance(old, Void) else (old,)
        return [words, *read_back(desk.without(*left_out), after, new)["say"]]
    if isinstance(old, Void):  # a taking back has no other before it
        return []
    return [
        f"Taken back, {handles[old.uid]}: {at_a_time(old, desk.pages)}. {_had(desk, old, look)}".strip(),
        _now(after, old, look),
    ]


def _had(desk: Desk, old: AnyEntry, look: Callable[[When], Outlook]) -> str:
    """Of a watering, who had how much of it."""
    if not isinstance(old, Soak):
        return ""
    ground = about(desk, old)
    if not ground.living:
        return NOBODY_STOOD
    then = look(old.happened_at)
    return how_given(Given(desk, ground, (old,), then, then))


def _now(after: Desk, old: AnyEntry, look: Callable[[When], Outlook]) -> str:
    """What the round says of the bed without it."""
    if not isinstance(old, BedEntry):
        return ""
    now = look(old.happened_at)
    bed = after.bed_with(old.bed_uid)
    said = says(now, bed)
    return f"{bed.name} without it: {said}" if said and now.call(bed) else said


def _share_typed_before(old: Kept, new: Kept, logged: Sequence[Change]) -> str:
    """That a jar took the place of a share of the rain that was typed, which is not put back by itself."""
    if not isinstance(old, Catch) or not isinstance(new, Void):
        return ""
    for one in logged:
        if (one.uid, one.at) == (old.bed_uid, old.written_at) and one.before is not None:
            share = one.before.get("rain_share")
            if share is not None and one.after.get("rain_share") is None:
                key = quoted(one.after["key"])
                return (
                    f"Before the jar its share of the rain was typed as {share:g}; that stays left to jars. "
                    f"To have it again: soakbook bed {key} --rain-share {share:g}"
                )
    return ""
