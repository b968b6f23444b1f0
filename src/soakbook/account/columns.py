"""What each column of the account's frames holds, with its unit in brackets.

A name without a unit is a word, a text or a count. NaN, NaT, None and an empty text all mean: not known, or there is
none, as the column says.
"""

from collections.abc import Mapping

VISITS: Mapping[str, str] = {
    "day": "calendar day of the garden's zone",
    "at": "when it was first watered, left or looked at, in the garden's zone; NaT where no time was said",
    "bed": "key of the bed, as it is now",
    "bed_uid": "the bed's own sign, which never changes",
    "by": "who; None where nobody was named",
    "what": "watered; left: looked at and left with a reason; looked: only felt or looked at",
    "soaks": "number of waterings entered",
    "kinds": "kinds of them: soak, rescue, re_wet, water_in",
    "method": "how it was given: can, lance, spray, drip, broadcast",
    "litres": "given at the nozzle [L]; 0 where nothing was",
    "planting": "names of the plantings that were named; empty: the whole bed",
    "plants": "living plants that were watered; 0 where nothing was",
    "source": "where the water came from: mains, butt, tank, barrow; empty where none was given",
    "source_guessed": "whether the source is that of the bed's tap and might have been another",
    "tap": "key of the tap; empty where no tap is known",
    "minutes": "tap open, by the last hose test [min]; NaN where no test is known; 0 where nothing was given",
    "minutes_on_foot": "with stops, hose or cans and the walk, by common practice [min]; NaN for a look without water",
    "water_price_per_m3": "price of mains water that day [currency/m3]; NaN where there is none, or other water",
    "water_cost": "cost of the water [currency]; 0 but for mains water; NaN where that had no price yet",
    "work_cost": "cost of minutes_on_foot [work_currency]; NaN where an hour had no price yet or nothing was given",
    "currency": "of water_cost; empty where water had no price",
    "work_currency": "of work_cost; empty where an hour had no price",
    "reason": "why it was left; empty for other visits",
    "ball_felt": "what the same person's finger last found in a ball there that day; empty where nothing",
    "bed_felt": "what it last found in the bed; empty where nothing",
    "leaves": "limp or upright, as the same person last saw them that day; empty where nobody said",
    "wet_to_cm": "how deep a hole dug that day was wet [cm]; NaN where none was dug",
    "note": "notes of the entries, apart by semicolons",
    "entry_uids": "the entries the row is made of, as a tuple of their signs",
}
"""One row per bed, day and person for waterings; per entry where it was left; per bed, day and person for looks."""

SOURCES: Mapping[str, str] = {
    "month": "first day of the month",
    "source": "mains, butt, tank or barrow; by the tap of each bed, see source_guessed of visits",
    "litres": "given [L]",
    "visits": "beds watered: rows of visits",
    "minutes": "tap open [min]; NaN where no visit had a hose test",
    "water_price_per_m3": "price of mains water [currency/m3]; NaN where there was none or it changed in the month",
    "water_cost": "cost of the water [currency], each visit at its day's price; NaN where no litre had a price",
    "unpriced_l": "litres of mains water that had no price yet [L]",
    "currency": "of water_cost; empty where there is none",
}
"""One row per month and source; of a month in which the currency changed, one for each currency."""
