"""The last page: what the account could not know, how sure it is, whose weather it is, what to mind."""

from collections.abc import Iterator

from soakbook.account.contents.blocks import Line, Lines, Section, Text
from soakbook.account.in_sum import Report
from soakbook.services.cautions import BUTT, CAUTIONS

NO_GAPS = "No gap in the weather, and no planting without a reckoning."
HOW_SURE = (
    "Litres given are those that were entered, at the nozzle. All that became of them is reckoned from the weather, "
    "day by day, and not measured.",
    "Of each soil and planting many likely ones are reckoned side by side. A figure that stands alone is the "
    "middle one, or that of the likeliest; eight of ten lie between the two ends given beside it.",
    "Only the plants' ground is reckoned: paths, and soil between plants that no root reaches, are not in it.",
    "Hours are reckoned from litres, flow, stops and the walk, by common practice; nobody held a watch.",
)
STANDING = ("butt", "tank")
FEELS_TOLD = "held back"


def last_page(report: Report) -> Iterator[Section]:
    """The sections of the last page.

    Parameters
    ----------
    report : mapping
        An account as `json_of` gives it.
    """
    gaps = tuple(Line(one.replace("`", "")) for one in report["findings"])
    not_known = Lines(gaps) if gaps else Text(NO_GAPS)
    yield Section(
        "not-known",
        "What this account could not know",
        (not_known,),
        new_page=not report["what_if"],
    )
    yield Section("how-sure", "How sure it is", tuple(Text(say) for say in HOW_SURE))
    if report["credits"]:
        yield Section("weather", "Whose weather", tuple(Text(one) for one in report["credits"]))
    cautions = tuple(_cautions(report))
    if cautions:
        yield Section("mind", "To mind", cautions)


def _cautions(report: Report) -> Iterator[Text]:
    """Only of what the account itself tells of or advises."""
    if any(report["totals"]["by_source_l"].get(source) for source in STANDING):
        yield Text(BUTT)
    if any(one["about"] == FEELS_TOLD for one in report["suggestions"]):
        yield Text(f"To feel: {CAUTIONS['feel'][:1].lower()}{CAUTIONS['feel'][1:]}")
