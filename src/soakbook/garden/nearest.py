"""Which of the garden's names a typed word means: a bed, a tap, a soil, a place, a mulch.

Exact first, then the only one it begins or is part of; a guess is offered, never taken.
"""

from collections.abc import Iterable, Mapping

from soakbook.errors import InputError

LEAST_LETTERS = 2
"""A shorter part of a name is a slip of the finger, not a name."""


def find(
    word: str, choices: Iterable[str], what: str, aliases: Mapping[str, str] | None = None
) -> str:
    """The key a word means.

    Parameters
    ----------
    word : str
        As typed; where it is none to the letter, all are compared as `plain` has them.
    choices : iterable
        The keys.
    what : str
        What is looked for: "bed", "soil".
    aliases : mapping, optional
        Other words for a key, to the key.

    Returns
    -------
    str
        A key.

    Raises
    ------
    InputError
        Nothing like it, or several.
    """
    known = list(choices)
    named = {**(aliases or {}), **{key: key for key in known}}
    if word in named:
        return named[word]
    by_name = {plain(name): key for name, key in named.items()}
    wanted = plain(word)
    if wanted in by_name:
        return by_name[wanted]
    for matches in (str.startswith, str.__contains__):
        found = list(dict.fromkeys(key for name, key in by_name.items() if matches(name, wanted)))
        if len(wanted) >= LEAST_LETTERS and len(found) == 1:
            return found[0]
        if len(wanted) >= LEAST_LETTERS and found:
            raise InputError(what, word, f"it could be {_listed(found, ' or ')}")
    from difflib import get_close_matches  # only a slip needs it, no morning does

    close = get_close_matches(wanted, by_name, n=1)
    guess = f"did you mean {by_name[close[0]]}? " if close else ""
    raise InputError(what, word, f"{guess}known: {_listed(known, ', ')}")


def plain(word: str) -> str:
    """A name as it is compared: capitals, spaces, hyphens and underlines make no difference."""
    return " ".join(word.casefold().replace("-", " ").replace("_", " ").split())


def _listed(names: list[str], joint: str) -> str:
    return joint.join(names) if names else "none yet"
