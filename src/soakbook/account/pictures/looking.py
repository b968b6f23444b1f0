"""A picture as pixels, for looking at and for notebooks: typst draws the very SVG that documents hold."""

from soakbook.account.documents.missing import of_extra
from soakbook.account.pictures.ink import PAGE_PT
from soakbook.account.pictures.picture import Picture
from soakbook.errors import InputError

_PAGE = f"""#set page(width: auto, height: auto, margin: 0pt)
#image(bytes(sys.inputs.svg), format: "svg", width: {PAGE_PT:g}pt)"""


def as_png(picture: Picture, width_px: int = 1200) -> bytes:
    """The picture as a PNG file.

    Parameters
    ----------
    picture : Picture
        What is shown.
    width_px : int
        Width [pixels, 1 or more]; the height follows.

    Raises
    ------
    InputError
        No typst, or no pixel.
    """
    if width_px < 1:
        raise InputError("width_px", width_px, "one pixel or more")
    with of_extra("reports", "typst, which turns pictures into pixels"):
        import typst
    done = typst.compile(
        _PAGE.encode(),
        format="png",
        ppi=72 * width_px / PAGE_PT,
        sys_inputs={"svg": picture.svg.decode()},
    )
    assert isinstance(done, bytes)
    return done
