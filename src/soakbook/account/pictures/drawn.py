"""All pictures of one account, in the order in which they are looked at."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from soakbook.account.pictures.picture import Picture
from soakbook.account.pictures.stream import stream
from soakbook.account.pictures.strip import strip
from soakbook.account.pictures.strip_days import BedShown, Frames, driest
from soakbook.account.pictures.tallies import tallies_of
from soakbook.account.pictures.thirst import thirst

if TYPE_CHECKING:
    from soakbook.account.reviewed import Account

SHORT: Mapping[str, str] = {
    "held_first_l": "held at the start or brought with plants",
    "rain_l": "rain",
    "given_l": "given by hand",
    "squared_up_l": "set right by feels",
    "drunk_l": "drunk by the plants",
    "soil_evaporated_l": "dried off the soil",
    "mulch_evaporated_l": "dried off the mulch",
    "drained_l": "drained past the roots",
    "run_off_l": "run off",
    "given_lost_l": "lost in giving",
    "elsewhere_l": "given where nothing is reckoned",
    "gone_l": "gone with plants",
    "squared_down_l": "set right by feels",
    "held_last_l": "held at the end",
}
"""Litres' way in words that have room beside a branch."""


def pictures_of(account: "Account") -> list[Picture]:
    """The garden's stream, what the air asked, the weeks, then the soil of each bed with reckoned days.

    Parameters
    ----------
    account : Account
        A season reviewed.

    Raises
    ------
    InputError
        No matplotlib.
    """
    return [
        *garden_pictures(account),
        *(one for strips in bed_pictures(account).values() for one in strips),
    ]


def garden_pictures(account: "Account") -> list[Picture]:
    """Those of the whole garden: the stream, what the air asked, the weeks; what has nothing to show is left out.

    Parameters
    ----------
    account : Account
        A season reviewed.

    Raises
    ------
    InputError
        No matplotlib.
    """
    beds = account.beds
    names = _names(account)
    pictures = []
    if not account.days.empty:
        pictures.append(stream_of(account))
    area_m2 = float(beds["area_m2"].sum())
    if area_m2 > 0 and account.weather[["rain_mm", "et0_mm"]].notna().any(axis=None):
        pictures.append(thirst(account.weather, account.visits, area_m2))
    if names:
        pictures += tallies_of(account.visits, names)
    return pictures


def bed_pictures(account: "Account") -> dict[str, list[Picture]]:
    """The soil of each bed with reckoned days, by the bed's key.

    Parameters
    ----------
    account : Account
        A season reviewed.

    Raises
    ------
    InputError
        No matplotlib.
    """
    names = _names(account)
    reckoned = set(account.days["bed"].astype(str))
    return {
        key: strips_of(account, BedShown(key, names[key], float(area_m2)))
        for key, area_m2 in zip(names, account.beds["area_m2"], strict=True)
        if key in reckoned
    }


def strips_of(account: "Account", bed: BedShown) -> list[Picture]:
    """The soil of a bed's driest planting, and of each other in which something was felt.

    Parameters
    ----------
    account : Account
        A season reviewed.
    bed : BedShown
        A bed with reckoned days.

    Raises
    ------
    InputError
        No matplotlib.
    """
    frames = Frames(account.days, account.visits, account.feels)
    felt = account.feels[account.feels["bed"] == bed.key]["planting_uid"]
    others = [uid for uid in dict.fromkeys(felt) if uid != driest(account.days, bed)]
    return [strip(frames, bed), *(strip(frames, bed, uid) for uid in others)]


def stream_of(account: "Account") -> Picture:
    """Litres' way of the whole garden.

    Parameters
    ----------
    account : Account
        A season reviewed.

    Raises
    ------
    InputError
        No matplotlib.
    """
    way = account.way()
    came = {SHORT[name]: litres for name, litres in way.came.items()}
    went = {SHORT[name]: litres for name, litres in way.went.items()}
    return stream(came, went)


def _names(account: "Account") -> dict[str, str]:
    """Names of the beds by their keys."""
    beds = account.beds
    return dict(zip(beds["bed"].astype(str), beds["name"].astype(str), strict=True))
