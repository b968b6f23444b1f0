"""Inks, pens and letters: the look that all pictures share. Nothing is drawn here.

Two inks and a wash, all of them browns that lie far apart in grey (`luminance`). No picture says by an ink alone what
its strokes do not say as well.
"""

INK = "#1f1710"
"""Water, words, frames: nearly black."""
EARTH = "#5b3517"
"""The strokes of which soil is drawn."""
WASH = "#dccdb4"
"""A pale ground under strokes."""
PAPER = "#ffffff"
"""What is left free, and cut out of ink again."""

PAGE_PT = 576.0
"""Width of every picture: eight inches, a little more than an A4 page between its margins. [pt]"""
LETTERS_PT = 12.0
"""Of words in a picture: 10.5 points on A4, 8 pixels on a telephone of 390. [pt]"""
SMALL_PT = 10.0
"""Of months and other words that are only looked up. [pt]"""
HEADING_PT = 14.0
"""Of a picture's own heading. [pt]"""
LETTER_SHARE = 0.62
"""Width of a letter against its size, in the mean of DejaVu Serif and rather too much; measured on bed names."""

HAIR_PT, FINE_PT, PEN_PT, BROAD_PT = 0.45, 0.7, 1.1, 2.0
"""Pens. [pt]"""


def luminance(ink: str) -> float:
    """How light an ink is to the eye, 0 black to 1 white.

    Parameters
    ----------
    ink : str
        As `#rrggbb`.

    References
    ----------
    WCAG 2.2, "relative luminance".
    """
    parts = (int(ink[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def room_pt(words: str, size_pt: float = LETTERS_PT) -> float:
    """Width that words take, rather too much than too little [pt]."""
    return len(words) * size_pt * LETTER_SHARE


def shortened(words: str, room: float, size_pt: float = LETTERS_PT) -> str:
    """Words cut to a width [pt], with dots where something was left out."""
    letters = max(int(room / (size_pt * LETTER_SHARE)), 2)
    return words if len(words) <= letters else f"{words[: letters - 1].rstrip()}…"
