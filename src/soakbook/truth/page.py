"""The truth report as a plain table of text, at most 96 columns wide. No number is made here."""

import calendar
import textwrap
from collections.abc import Iterator

from soakbook.truth.report import (
    Evaporation,
    Felt,
    Percolation,
    RecordReport,
    SoilWater,
    TruthReport,
)
from soakbook.truth.scores import Score

WIDTH = 96
LABEL = 44
IN_BAND = f"{'in band':>10}"
HEAD = f"{'days':>7}{'RMSE':>9}{'bias':>9}{'ub':>9}{'R2':>8}{IN_BAND}"
VERDICT = {True: "met", False: "MISSED", None: "not known"}
INTRO = (
    "The day's balance against what others measured: one store as deep as the sensors, every parameter from "
    "the texture and the tables, nothing fitted. RMSE is the root of the mean squared error, bias reckoned "
    "less measured, ub the RMSE without bias, R2 the square of the correlation, in band the share of days "
    "inside the band that should hold 90 in 100."
)


def page_of(report: TruthReport) -> str:
    """The whole report."""
    lines = textwrap.wrap(INTRO, WIDTH)
    for record in report.records:
        lines += ["", *_record(record)]
    for refused in report.refused:
        lines += ["", *_wrapped(f"{refused.record} could not be read: {refused.why}")]
    for name in report.weather_alone:
        alone = f"{name}: weather alone, without a .toml beside it; nothing in it to compare with"
        lines += ["", *_wrapped(alone, "", "")]
    if len(report.records) > 1:
        missed = sum(one.met is False for record in report.records for one in record.targets)
        lines += ["", f"{_count(report.asked, report.judged)} in all, {missed} missed"]
    return "\n".join(lines)


def _record(record: RecordReport) -> Iterator[str]:
    yield f"{record.name}   [{record.record}]"
    yield from _wrapped(_setting(record))
    yield from _wrapped(
        f"source: {record.source or 'not said'}; licence: {record.licence or 'not said'}"
    )
    if record.soil_water is not None:
        yield from _soil_water(record.soil_water)
    if record.felt:
        yield from _felt(record.felt)
    if record.evaporation is not None:
        yield from _evaporation(record.evaporation)
    if record.percolation is not None:
        yield from _percolation(record.percolation)
    yield from _targets(record)
    if record.findings:
        yield "  to know"
        for finding in record.findings:
            yield from _wrapped(f"- {finding}", "    ", "      ")


def _setting(record: RecordReport) -> str:
    depths = [f"{depth:g}" for depth in record.sensor_depths_cm]
    tops = [f"{top:g}-" for top in record.layer_tops_cm]
    places = ", ".join(map("".join, zip(tops, depths, strict=True)) if tops else depths)
    sensors = f", {'means of' if tops else 'sensors at'} {places} cm" if places else ""
    months = [calendar.month_abbr[month] for month in record.months]
    span = f"{months[0]} to {months[-1]}" if len(months) > 1 else months[0]
    return (
        f"{record.soil}, roots 0-{100 * record.root_depth_m:g} cm{sensors}; {span}, "
        f"{record.first} to {record.last}"
    )


def _soil_water(water: SoilWater) -> Iterator[str]:
    yield f"  {'water in the soil, m3/m3':<{LABEL - 2}}{HEAD}"
    yield _row("nothing fitted", water.fitted_nothing, water.coverage)
    yield _row(f"taken for {water.other_texture}", water.other_score, None)
    if water.look is not None:
        look = water.look
        yield _row("after one soaked look", look.score, look.coverage)
        yield f"      looked on {look.day}: the sensors read {look.measured:.3f}, so full is {look.full:.3f}"


def _felt(felt: tuple[Felt, ...]) -> Iterator[str]:
    yield f"  {'wetness, 0 dry to 1 full, days without a feel':<{LABEL - 2}}"
    for one in felt:
        every = f"{one.every_days}{'rd' if one.every_days == 3 else 'th'}"
        yield _row(f"a feel every {every} day", one.score, one.coverage)
        yield _row("  the same days without any", one.open_score, one.open_coverage)
    first = felt[0]
    if first.vwc_rmse is not None:
        yield f"      every {first.every_days}rd day in m3/m3: RMSE {first.vwc_rmse:.3f}; {first.feels} feels a hand"


def _evaporation(evaporation: Evaporation) -> Iterator[str]:
    yield f"  {'evaporation, mm a day':<{LABEL - 2}}{HEAD.removesuffix(IN_BAND)}"
    yield _row("by day", evaporation.daily, None)
    yield _row("by week (weeks)", evaporation.weekly, None)


def _percolation(percolation: Percolation) -> Iterator[str]:
    yield f"  {'percolation, mm':<{LABEL - 2}}{'days':>7}{'reckoned':>11}{'measured':>11}{'ratio':>9}"
    for season in percolation.seasons:
        ratio = "-" if season.ratio is None else f"{season.ratio:.2f}"
        yield (
            f"    {season.year:<{LABEL - 4}}{season.days:>7}{season.reckoned_mm:>11.0f}"
            f"{season.measured_mm:>11.0f}{ratio:>9}"
        )
    if percolation.ratio is not None:
        yield f"    {'all':<{LABEL - 4}}{'':>29}{percolation.ratio:>9.2f}"


def _row(label: str, score: Score | None, coverage: float | None) -> str:
    start = f"    {label:<{LABEL - 4}}"
    if score is None:
        return f"{start}  too few days"
    squared = "-" if score.r2 is None else f"{score.r2:.2f}"
    band = "" if coverage is None else f"{coverage:.2f}"
    line = f"{start}{score.n:>7}{score.rmse:>9.3f}{score.bias:>+9.3f}{score.ub:>9.3f}{squared:>8}{band:>10}"
    return line.rstrip()


def _targets(record: RecordReport) -> Iterator[str]:
    if not record.targets:
        yield "  no target: it has none of its own, and those for an unseen record are of soil water"
        return
    yield f"  targets, {_count(len(record.targets), record.judged)}"
    for judged in record.targets:
        value = "-" if judged.value is None else f"{judged.value:.3f}"
        asked = f"{judged.asked:<9} {VERDICT[judged.met]}"
        yield f"    {judged.what:<{LABEL - 4}}{value:>7}   {asked}"
        if judged.note:
            yield from _wrapped(judged.note, "      ", "      ")


def _count(asked: int, judged: int) -> str:
    return f"{judged} of {asked} judged"


def _wrapped(text: str, first: str = "  ", later: str = "  ") -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=later, break_on_hyphens=False
    )
