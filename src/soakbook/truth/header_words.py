"""The headers by which measured columns are known, and weather as towers and stations call it."""

import re

from soakbook.weather.columns import tidy

FORM_UNITS = {
    "rain": "mm",
    "tmin": "C",
    "tmax": "C",
    "tmean": "C",
    "rh": "%",
    "rhmin": "%",
    "rhmax": "%",
    "sun": "h",
    "radiation": "MJ/m2",
    "wind": "m/s",
    "vapour": "kPa",
    "dew": "C",
}
"""Units of the record form, for headers that name none."""
VPD_KPA = {"kpa": 1.0, "hpa": 0.1, "mbar": 0.1, "pa": 0.001}
PERCENT = ("%", "pct", "percent")

_DEPTH = r"\d+(?:\.\d+)?"
VWC = re.compile(
    r"(?:vwc|soil water|soil moisture|theta)"
    rf"(?: ?(?P<depth>{_DEPTH})(?: (?P<bottom>{_DEPTH}))?| (?:mean|average|profile))?"
    r" ?(?:cm)?(?: daily)?(?: (?P<unit>m3/m3|m3 m3|m3 m 3|fraction|%|pct|percent))?"
)
"""One depth, the top and the bottom of a layer, or neither: the mean of the root zone."""
VPD = re.compile(r"(?:vpd|vapou?r pressure def\w+)(?: (?P<unit>\w+))?")
SOIL_WARMTH = re.compile(
    rf"(?:tsoil|soil temp|soil temperature) ?(?P<depth>{_DEPTH})? ?(?:cm)?(?: daily)?(?: c)?"
)
PLAIN = {
    "et": re.compile(r"(?:et|eta|aet|et measured|measured et)(?: mm)?"),
    "et_quality": re.compile(r"et (?:quality|qc|measured (?:share|fraction))"),
    "percolation": re.compile(r"(?:percolation|drainage)(?: mm)?"),
    "given": re.compile(r"(?:irrig\w*|water given)(?: mm)?"),
    "kcb": re.compile(r"kcb|basal coefficient"),
    "ground_cover": re.compile(
        r"(?:ground cover|cover fraction|fraction cover|fc)(?: (?:fraction|%|pct|percent))?"
    ),
}
REFERENCE_ET = re.compile(r"(?:et0|eto|pet|etref|reference et)(?: |$)")

_ALSO_CALLED = {
    "tmean": r"ta|t air|tair|air ?temp|air temperature|temp|temperature",
    "ea": r"vp|(?:actual )?vapou?r pressure|e act",
    "rs": r"srad|sw in|swin|global rad",
    "wind": r"ws",
    "rain": r"p|ppt|prcp|precipitation amount",
}
"""Words of our own headers -> how stations and towers also write them."""


def our_words(name: str) -> str:
    """A header with the words of towers and stations turned into ours."""
    plain = tidy(name)
    for ours, theirs in _ALSO_CALLED.items():
        if (said := re.fullmatch(rf"(?:{theirs})(?P<unit> .*)?", plain)) is not None:
            return ours + (said["unit"] or "")
    return name
