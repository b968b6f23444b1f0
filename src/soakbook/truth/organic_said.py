"""Organic matter as a record says it: a share of the weight, as a fraction or in per cent."""

from soakbook.errors import InputError
from soakbook.reckoning.physics.soil import ORGANIC_PERCENT
from soakbook.truth.said import Said, number

MOST_PERCENT = 8.0
KEYS = ("organic_matter", "organic", "om")
ENDINGS = ("_fraction", "_percent", "_pct")
DOUBTFUL_BELOW = 0.15
"""So little in per cent, and so much as a fraction, is rare: which was meant cannot be told."""


def organic_percent(said: Said, grains_in_percent: bool, findings: list[str]) -> float:
    """Organic matter in per cent of the weight: as its name says, else by its size and that of sand and clay.

    Parameters
    ----------
    said : Said
        Its key is taken out.
    grains_in_percent : bool
        Whether sand and clay are said in per cent.
    findings : list of str
        What was assumed is added.

    Raises
    ------
    InputError
        More than there can be, or a number that can be read two ways.
    """
    found = said.take(*(f"{key}{end}" for key in KEYS for end in ("", *ENDINGS)))
    if found is None:
        return ORGANIC_PERCENT
    name, value = found
    right = f"at most {MOST_PERCENT:g} per cent of the weight, or that as a fraction"
    share = number(name, value, 0, MOST_PERCENT, right)
    if name.endswith("_fraction"):
        return 100 * number(name, value, 0, MOST_PERCENT / 100, right)
    if name.endswith(("_percent", "_pct")):
        return share
    if grains_in_percent and 0 < share < DOUBTFUL_BELOW:
        raise InputError(
            name,
            value,
            f"said as organic_matter_percent = {share:g}, or organic_matter_fraction = {share:g}, which is "
            f"{100 * share:g} per cent",
        )
    if grains_in_percent:
        return share
    if share > MOST_PERCENT / 100:
        if share < DOUBTFUL_BELOW:
            right = f"as a fraction at most {MOST_PERCENT / 100:g}; else organic_matter_percent = {share:g}"
            raise InputError(name, value, right)
        findings.append(f"organic matter of {share:g} is taken as per cent")
        return share
    if share > 0:
        findings.append(
            f"organic matter of {share:g} is taken as a fraction, {100 * share:g} per cent"
        )
    return 100 * share
