"""The inks lie apart in grey, and words are given room enough."""

from itertools import pairwise

import pytest

from soakbook.account.pictures import ink


def test_luminance_of_black_white_and_a_printed_value() -> None:
    """Grey #777777 on white has a contrast of 4.48, the well-known near miss of WCAG's 4.5."""
    assert ink.luminance("#000000") == 0.0
    assert ink.luminance("#ffffff") == pytest.approx(1.0)
    assert 1.05 / (ink.luminance("#777777") + 0.05) == pytest.approx(4.48, abs=0.005)


def test_inks_lie_apart_in_grey() -> None:
    inks = [ink.INK, ink.EARTH, ink.WASH, ink.PAPER]
    grey = [ink.luminance(one) for one in inks]
    assert grey == sorted(grey)
    contrasts = [(light + 0.05) / (dark + 0.05) for dark, light in pairwise(grey)]
    assert min(contrasts) > 1.4
    assert (1.0 + 0.05) / (grey[1] + 0.05) > 7, "strokes of soil are read as words are"


def test_words_are_cut_to_their_room() -> None:
    assert ink.shortened("Dole Bed", 100.0) == "Dole Bed"
    cut = ink.shortened("The very long border below the other house", 100.0)
    assert cut.endswith("…")
    assert ink.room_pt(cut) <= 100.0


@pytest.mark.parametrize("face", ["DejaVuSerif.ttf", "DejaVuSerif-Italic.ttf"])
@pytest.mark.parametrize(
    "words", ["Warden's Long Border", "Orchard Ride hedge", "Bakehouse Bank", "sour", "moist"]
)
def test_room_is_no_less_than_the_letters_take(face: str, words: str) -> None:
    from pathlib import Path

    import matplotlib as mpl
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    font = FontProperties(fname=Path(mpl.get_data_path()) / "fonts" / "ttf" / face)
    taken = TextPath((0, 0), words, size=ink.LETTERS_PT, prop=font).get_extents().width
    assert taken <= ink.room_pt(words) <= 1.4 * taken
