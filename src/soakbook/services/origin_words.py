"""How a plant came, in a gardener's or a nursery's words: `7.5 L pot`, `dug ball 45 cm`, `bare root`, `C5`, `P9`.

They become the options pot, ball, deep and bare, which `plant_words` reads; sizes are read there.
"""

import re

from soakbook.errors import InputError

RIGHT = "how they came: 7.5 L pot, 9 cm pot, dug ball 45 cm, or bare root"

_BARE = re.compile(r"(?:bare|br|bare[- ]?root(?:ed|s)?)", re.IGNORECASE)
_NUMBER = r"[0-9]+(?:\.[0-9]+)?"
_CODE = re.compile(
    rf"c\s*(?P<litres>{_NUMBER})\s*l?|p\s*(?P<wide_cm>{_NUMBER})\s*(?:cm)?", re.IGNORECASE
)
_POT = re.compile(r"\b(?:pots?|potted|containers?)\b", re.IGNORECASE)
_BALL = re.compile(r"\b(?:(?:dug|root)?[- ]?balls?|rootball(?:ed)?|balled|dug|rb)\b", re.IGNORECASE)
_DEEP = re.compile(r"\bdeep\b", re.IGNORECASE)
_VOLUME = re.compile(r"[0-9.½¼¾\s]+(?:l|lit(?:re|er)s?|ltr|gal(?:lon)?s?)", re.IGNORECASE)
_WIDTH = re.compile(r"[0-9.½¼¾\s]+(?:cm|mm|in|inch(?:es)?)", re.IGNORECASE)
_FILLING = re.compile(
    r"\b(?:of|in|with|a|an|wide|across|out|from)\b|[,;](?![0-9])", re.IGNORECASE
)  # a comma before a figure may be a decimal one, and is left to be refused


def is_origin(text: str) -> bool:
    """Whether a text says how a plant came, rightly or not."""
    plain = text.strip()
    return any(
        one.search(plain) if one in (_POT, _BALL) else one.fullmatch(plain)
        for one in (_POT, _BALL, _BARE, _CODE, _VOLUME, _WIDTH)
    )


def in_a_nursery(text: str) -> bool:
    """Whether it is a word of nurseries' lists that stands where a pot is looked for: C5, P9, bare root."""
    plain = text.strip()
    return any(one.fullmatch(plain) for one in (_BARE, _CODE))


def origin_said(text: str, field: str = "size") -> dict[str, str]:
    """The options that a text comes to.

    Parameters
    ----------
    text : str
        As typed; nurseries' C5 is a pot of 5 L, P9 one 9 cm wide.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        Neither a pot, a ball nor bare roots; a width that could be of either.
    """
    plain = text.strip()
    code = _CODE.fullmatch(plain)
    if _BARE.fullmatch(plain):
        return {"bare": "yes"}
    if code is not None:
        return {"pot": f"{code['litres']}l" if code["litres"] else f"{code['wide_cm']}cm"}
    pot, ball = _POT.search(plain), _BALL.search(plain)
    if pot and not ball:
        return {"pot": _size(_POT, plain, text, field)}
    if ball and not pot:
        deep = {"deep": "yes"} if _DEEP.search(plain) else {}
        return {"ball": _size(_BALL, _DEEP.sub(" ", plain), text, field), **deep}
    if _VOLUME.fullmatch(plain):
        return {"pot": plain}
    raise InputError(field, text, RIGHT)


def _size(kind: re.Pattern[str], plain: str, text: str, field: str) -> str:
    """What is left of a text without the word that says what it is the size of."""
    size = " ".join(_FILLING.sub(" ", kind.sub(" ", plain)).split())
    if not size:
        raise InputError(field, text, RIGHT)
    return size
