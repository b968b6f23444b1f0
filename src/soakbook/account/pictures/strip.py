"""A bed's soil in section through the season: rain and soaks above, the ball, the bed below it, feels pinned on.

Drawn is one planting of the bed, the driest unless another is asked for: a line that went from planting to planting
would show a soil that is nowhere. The heading says which, and what is pinned on was felt there. What is drawn stands
in `strip_days`.
"""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from soakbook.account.pictures import ink, soil
from soakbook.account.pictures.foot import FOOT_PT, Along, draw_foot
from soakbook.account.pictures.picture import Picture
from soakbook.account.pictures.pins import ROW_PT, ROWS, flag_pt, placed
from soakbook.account.pictures.shapes import box, line, ring, runs
from soakbook.account.pictures.sheet import Sheet, plain_name
from soakbook.account.pictures.soil import Band
from soakbook.account.pictures.strip_days import BedShown, Frames, Stripped, strip_alt, strip_days

if TYPE_CHECKING:
    import pandas as pd
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

LEFT_PT, RIGHT_PT = 66.0, ink.PAGE_PT - 8.0
RAIN_TOP_PT, LANE_PT = 50.0, 34.0
"""Where rain begins to fall, and the height of its lane and of the soaks'. [pt]"""
BALL_PT, BED_PT, BETWEEN_PT, GROUND_PT = 36.0, 50.0, 5.0, 12.0
STATES = ("sodden", "holding", "drying", "wanting", "parched")
SHOWN_FRACTION = dict(zip(STATES, (1.0, 0.85, 0.5, 0.25, 0.0), strict=True))
"""How wet a state is drawn in the key below the picture."""
KEY = (
    "Rain is broad as far as it reached the soil. Pins: what a finger found. Crosses: plants gone."
)


class Lanes(NamedTuple):
    """What lies where on the sheet, from the top; the ball is None where there is none [pt]."""

    soaks_top: float
    ground: float
    ball: Band | None
    bed: Band
    bed_flags: float
    foot: float
    height: float


def strip(frames: Frames, bed: BedShown, planting_uid: str | None = None) -> Picture:
    """The picture of one bed's soil.

    Parameters
    ----------
    frames : Frames
        The account's.
    bed : BedShown
        Which bed.
    planting_uid : str, optional
        Whose ball and soil are shown; unsaid, the driest.

    Raises
    ------
    InputError
        What `strip_days` refuses, or no matplotlib.
    """
    shown = strip_days(frames, bed, planting_uid)
    table = shown.table
    lanes = lanes_for(
        has_ball=bool(table["ball_p50"].notna().any()),
        ball_felt=bool((table["ball_felt"] != "").any()),
        bed_felt=bool((table["bed_felt"] != "").any()),
    )
    along = Along(shown.first, shown.last, LEFT_PT, RIGHT_PT)
    sheet = Sheet(ink.PAGE_PT, lanes.height)
    _heading(sheet, bed, shown)
    edges = np.linspace(LEFT_PT, RIGHT_PT, along.days + 1)
    _water(sheet, lanes, edges, table)
    if lanes.ball:
        _store(sheet, lanes.ball, edges, table, "ball")
    _store(sheet, lanes.bed, edges, table, "bed")
    _feels(sheet, lanes, edges, table)
    _losses(sheet, lanes, edges, table)
    draw_foot(sheet, along, lanes.foot)
    _key(sheet, lanes.foot + FOOT_PT + 4)
    name = plain_name(f"strip-{bed.key}" + (f"-{planting_uid}" if planting_uid else ""))
    title = f"The soil of {bed.name} in section" + (f": {shown.planting}" if planting_uid else "")
    alt = strip_alt(bed, shown)
    return Picture(name, title, alt, sheet.svg(name, title, alt), table)


def lanes_for(*, has_ball: bool, ball_felt: bool, bed_felt: bool) -> Lanes:
    """Where the lanes lie when there is a ball and when something was felt."""
    soaks_top = RAIN_TOP_PT + LANE_PT + 4
    ground = soaks_top + LANE_PT + 4 + (ROWS * ROW_PT if ball_felt else 0) + GROUND_PT
    ball = Band(ground, ground + BALL_PT, 9) if has_ball else None
    bed_top = ground + (BALL_PT + BETWEEN_PT if has_ball else 0)
    bed = Band(bed_top, bed_top + BED_PT, 8)
    bed_flags = bed.bottom_pt + 4
    foot = bed_flags + (ROWS * ROW_PT + 4 if bed_felt else 2)
    return Lanes(soaks_top, ground, ball, bed, bed_flags, foot, foot + FOOT_PT + 40)


def _heading(sheet: Sheet, bed: BedShown, shown: Stripped) -> None:
    room = ink.PAGE_PT - 8
    sheet.words((4, 16), ink.shortened(bed.name, room, ink.HEADING_PT * 1.1), ink.HEADING_PT, face="bold")  # fmt: skip
    planting = ink.shortened(shown.planting, room - ink.room_pt(shown.among))
    sheet.words((4, 33), f"{planting}{shown.among}", face="slanted")


def _water(sheet: Sheet, lanes: Lanes, edges: "NDArray[np.float64]", table: "pd.DataFrame") -> None:
    """Rain as leaning strokes, broad as far as it reached the soil; soaks as hanging drops.

    Water thrown over the mulch reaches the soil as rain does, so on its days no more than the rain is drawn broad.
    """
    noon = (edges[:-1] + edges[1:]) / 2
    rain, into, soaks = (
        table[column].fillna(0.0).to_numpy(float)
        for column in ("rain_gauge_mm", "into_soil_mm", "soak_l_per_m2")
    )
    for pen_pt, fallen in ((ink.FINE_PT, rain), (ink.BROAD_PT, np.minimum(into, rain))):
        lengths = LANE_PT * fallen / max(rain.max(), 1.0)
        sheet.stroke(
            [
                line((x, RAIN_TOP_PT), (x - 0.12 * length, RAIN_TOP_PT + length))
                for x, length in zip(noon, lengths, strict=True)
                if length > 0
            ],
            pen_pt=pen_pt,
            round_ends=False,
        )
    day_pt = float(edges[1] - edges[0])
    lengths = LANE_PT * soaks / max(soaks.max(), 1.0)
    sheet.fill(
        [
            drop((x, lanes.soaks_top), length, broadest=max(1.1 * day_pt, 0.9))
            for x, length in zip(noon, lengths, strict=True)
            if length > 0
        ],
        ink.INK,
    )
    tops = [RAIN_TOP_PT, lanes.soaks_top]
    sheet.stroke([line((LEFT_PT, top), (RIGHT_PT, top)) for top in tops], pen_pt=ink.HAIR_PT)
    for top, what, most, unit in (
        (RAIN_TOP_PT, "rain", rain.max(), "mm"),
        (lanes.soaks_top, "soaks", soaks.max(), "L/m²"),
    ):
        sheet.words((4, top + 11), what)
        sheet.words((4, top + 24), f"to {most:.1f} {unit}" if most else "none", ink.SMALL_PT - 1)


def drop(hangs: tuple[float, float], length_pt: float, *, broadest: float) -> "Points":
    """A drop that hangs from a point: as long as said, round below with a radius of at most `broadest` [pt]."""
    x, top = hangs
    radius = min(2.4, length_pt / 4, broadest)
    turn = np.linspace(-0.15 * np.pi, 1.15 * np.pi, 13)
    middle = top + length_pt - radius
    round_below = np.column_stack([x + radius * np.cos(turn), middle + radius * np.sin(turn)])
    return np.concatenate([[[x, top]], round_below])


def _store(
    sheet: Sheet, band: Band, edges: "NDArray[np.float64]", table: "pd.DataFrame", store: str
) -> None:
    """One band of soil with its states cut in."""
    sheet.fill(soil.engraved(band, edges, table[f"{store}_p50"].to_numpy(float)), ink.EARTH)
    states = table[f"{store}_state"].where(table[f"{store}_p50"].notna(), "").to_numpy(object)
    for state in ("sodden", "wanting", "parched"):
        for begin, end in runs(states == state):
            _cut_in(sheet, band, (edges[begin], edges[end]), state)
    sheet.words((4, (band.top_pt + band.bottom_pt) / 2 + 4), store)


def _cut_in(sheet: Sheet, band: Band, ends: tuple[float, float], state: str) -> None:
    left, right = ends
    whole = [box(left, band.top_pt, right, band.bottom_pt)]
    if state == "sodden":
        sheet.fill(whole, ink.INK)
        # A spell of a day stays dark: what is cut out of it is no more than a fifth.
        pen_pt = min(soil.SLANT_PEN_PT, (right - left) / 5)
        sheet.stroke(soil.slants(band, left, right), ink.PAPER, pen_pt, round_ends=False)
    elif state == "wanting":
        sheet.fill(soil.cuts(band, left, right), ink.PAPER)
    elif state == "parched":
        sheet.fill(whole, ink.PAPER)
        sheet.stroke(soil.cracks(band, left, right), ink.INK, 0.9)


def _feels(sheet: Sheet, lanes: Lanes, edges: "NDArray[np.float64]", table: "pd.DataFrame") -> None:
    """Pins with their words: those of the ball fly above it, those of the bed below."""
    for store, band, rows in (
        ("ball", lanes.ball, [lanes.ground - GROUND_PT - ROW_PT * (row + 1) for row in range(ROWS)]),
        ("bed", lanes.bed, [lanes.bed_flags + ROW_PT * row for row in range(ROWS)]),
    ):  # fmt: skip
        felt = table[f"{store}_felt"].to_numpy(object)
        days = np.flatnonzero(felt != "")
        middle = (band.top_pt + band.bottom_pt) / 2 if band else lanes.ground
        noon = (edges[:-1] + edges[1:]) / 2
        # Many pins are small ones, or they would hide the soil they were put into.
        dot = float(np.clip(0.25 * (RIGHT_PT - LEFT_PT) / max(len(days), 1), 0.9, 2.3))
        for pin in reversed(placed([(noon[day], felt[day]) for day in days], RIGHT_PT)):
            head = rows[pin.row] if pin.row is not None else middle
            foot = head + ROW_PT - 2 if head > middle else head
            stem = line((pin.x_pt, foot), (pin.x_pt, middle))
            sheet.stroke([stem], ink.PAPER, 3.0)
            sheet.fill([ring((pin.x_pt, middle), dot + 1.2)], ink.PAPER)
            sheet.stroke([stem], ink.INK, 1.0)
            sheet.fill([ring((pin.x_pt, middle), dot)], ink.INK)
            if pin.row is not None:
                _flag(sheet, pin.word, pin.flag_pt, head)


def _flag(sheet: Sheet, word: str, left: float, top: float) -> None:
    edge = box(left, top, left + flag_pt(word), top + ROW_PT - 2)
    sheet.fill([edge], ink.PAPER)
    sheet.stroke([np.concatenate([edge, edge[:1]])], ink.INK, 0.6)
    sheet.words((left + 3, top + ROW_PT - 4.6), word, ink.SMALL_PT - 1)


def _losses(
    sheet: Sheet, lanes: Lanes, edges: "NDArray[np.float64]", table: "pd.DataFrame"
) -> None:
    """A cross on the ground for plants gone, and how many."""
    free_from = 0.0
    for day in np.flatnonzero(table["gone"].to_numpy(int) > 0):
        x, y = float(edges[day]), lanes.ground - 6
        arms = [((x - 3, y - 3), (x + 3, y + 3)), ((x - 3, y + 3), (x + 3, y - 3))]
        sheet.stroke([line(*arm) for arm in arms], ink.INK, 1.5)
        words = f"{int(table['gone'].iloc[day])} gone"
        room = ink.room_pt(words, ink.SMALL_PT)
        begins = x + 5 if x + 5 + room < RIGHT_PT else x - 5 - room
        if begins >= free_from:
            sheet.fill([box(begins - 1, y - 5, begins + room, y + 5)], ink.PAPER)
            sheet.words((begins, y + 3.5), words, ink.SMALL_PT)
            free_from = begins + room


def _key(sheet: Sheet, top: float) -> None:
    """The five states as they are drawn, with their words."""
    step = (RIGHT_PT - LEFT_PT) / len(STATES)
    for number, state in enumerate(STATES):
        left = LEFT_PT + step * number
        ends = (left, left + 24.0)
        band = Band(top, top + 14, 3)
        shown = np.full(1, SHOWN_FRACTION[state])
        sheet.fill(soil.engraved(band, np.array(ends), shown), ink.EARTH)
        _cut_in(sheet, band, ends, state)
        sheet.words((left + 29, top + 11), state, ink.SMALL_PT)
    sheet.words((LEFT_PT, top + 29), KEY, ink.SMALL_PT - 1, face="slanted")
