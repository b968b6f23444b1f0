"""What a reader of a proof should know: what is missing in it, what was guessed, what was written late."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from soakbook.account.proof_record import DayWeather, ProofFinding, Rule, Value
from soakbook.account.proof_weather import is_known
from soakbook.account.visit_record import Visit
from soakbook.garden.pages import Pages
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted
from soakbook.reckoning.advice.supply import supply_of
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.cautions import RULE

LATE_DAYS = 2
"""What is written so many days after it happened is written from memory. common practice, no source"""

RUNS_NAMED = 4
SEEN = ("gauge", "measured", "analysed")
OF_DAY = {
    "rain_mm": "rain",
    "tmin_c": "lowest temperature",
    "tmax_c": "highest temperature",
    "et0_mm": "ET0",
}

DIGEST_SHOWS = (
    "A digest fits these data and no others, but whoever changes them can write a new one beside them: to find that "
    "out, keep the digest where only you can write it. It does not show who made the file, nor that what was entered "
    "is true."
)
RECKONED = (
    "Litres are as entered. Minutes are reckoned from them: the tap open by the last hose test, on foot with stops, "
    "hose or cans and the walk. Nobody timed them."
)


def findings_of(
    pages: Pages, visits: Sequence[Visit], weather: Mapping[date, DayWeather]
) -> tuple[ProofFinding, ...]:
    """What is to be known of a proof, gaps first.

    Parameters
    ----------
    pages : Pages
        The book.
    visits : sequence of Visit
        Those of the span.
    weather : mapping of date to DayWeather
        Every day of the span.
    """
    return (
        *_of_weather(weather),
        *_of_water(pages, visits),
        *_of_writing(visits, ZoneInfo(pages.garden.timezone)),
    )


def cautions_of(rules: Sequence[Rule]) -> tuple[str, ...]:
    """Sentences without which a proof would be taken for more than it is.

    Parameters
    ----------
    rules : sequence of Rule
        Those that held in the span.
    """
    return (DIGEST_SHOWS, RECKONED, *([RULE] if rules else []))


def _of_weather(weather: Mapping[date, DayWeather]) -> Iterator[ProofFinding]:
    no_rain = [day for day, one in weather.items() if not is_known(one, "rain_mm")]
    if no_rain:
        say = f"No rain is known of {counted(len(no_rain), 'day')}: {_days(no_rain)}. The total is without them."
        yield ProofFinding("no_rain_known", say)
    no_et0 = [day for day, one in weather.items() if not is_known(one, "et0_mm")]
    if no_et0:
        say = f"What the air asked for is not known of {counted(len(no_et0), 'day')}: {_days(no_et0)}."
        yield ProofFinding("no_et0_known", say)
    supposed = [
        day
        for day, one in weather.items()
        if any(isinstance(value, Value) and value.kind not in SEEN for value in one)
    ]
    if supposed:
        kinds = sorted(
            {
                f"{OF_DAY[name]} {value.kind}"
                for day in supposed
                for name, value in weather[day]._asdict().items()
                if value is not None and value.kind not in SEEN
            }
        )
        say = f"Not measured on {counted(len(supposed), 'day')}: {_days(supposed)} ({', '.join(kinds)})."
        yield ProofFinding("not_measured", say)


def _of_water(pages: Pages, visits: Sequence[Visit]) -> Iterator[ProofFinding]:
    watered = [(one, one.given) for one in visits if one.given is not None]
    untested = [one for one, given in watered if given.minutes is None]
    if untested:
        say = f"{_waterings(untested)} without minutes of the tap: no hose test is known ({_beds(untested)})."
        yield ProofFinding("no_hose_test", say)
    if any(given.source_guessed for _, given in watered):
        say = "Entries do not say where water came from: it is taken to be from each bed's tap, or its cans."
        yield ProofFinding("source_guessed", say)
    barred = [
        one
        for one, _ in watered
        if supply_of(pages, one.bed, one.day).barred is not None
        and any(soak.method != "can" for soak in one.soaks)
    ]
    if barred:
        say = (
            f"{_waterings(barred)} otherwise than by can while the bed's usual way was barred: "
            f"{_days(one.day for one in barred)} ({_beds(barred)}). Minutes are those of cans."
        )
        yield ProofFinding("hose_barred", say)
    bare = [one for one, given in watered if given.plants == 0]
    if bare:
        say = f"{_waterings(bare)} where no plant of the book stood: {_days(one.day for one in bare)} ({_beds(bare)})."
        yield ProofFinding("nothing_stood", say)


def _of_writing(visits: Sequence[Visit], zone: ZoneInfo) -> Iterator[ProofFinding]:
    nameless = [one for one in visits if one.by is None]
    if nameless:
        yield ProofFinding("no_name", f"{counted(len(nameless), 'visit')} without a name.")
    timeless = [one for one in visits if one.at is None]
    if timeless:
        yield ProofFinding("no_hour", f"{counted(len(timeless), 'visit')} with a day and no hour.")
    late = [
        one
        for one in visits
        if any((local_day(e.written_at, zone) - one.day).days > LATE_DAYS for e in one.entries)
    ]
    if late:
        say = f"{counted(len(late), 'visit')} written more than {LATE_DAYS} days after: {_days(v.day for v in late)}."
        yield ProofFinding("written_late", say)
    corrected = [one for one in visits if any(entry.supersedes for entry in one.entries)]
    if corrected:
        say = f"{counted(len(corrected), 'visit')} corrected after it was first written; soakbook book log shows how."
        yield ProofFinding("corrected", say)


def _waterings(visits: Sequence[Visit]) -> str:
    return counted(len(visits), "watering")


def _beds(visits: Iterable[Visit]) -> str:
    return ", ".join(sorted({one.bed.name for one in visits}))


def _days(days: Iterable[date]) -> str:
    """`4 to 6 May, 9 May`: stretches of days, the first few of them."""
    runs: list[list[date]] = []
    for day in sorted(set(days)):
        if runs and runs[-1][-1] == day - timedelta(days=1):
            runs[-1].append(day)
        else:
            runs.append([day])
    said = [
        _dated(run[0]) if len(run) == 1 else f"{_dated(run[0])} to {_dated(run[-1])}"
        for run in runs[:RUNS_NAMED]
    ]
    more = ["and others"] if len(runs) > RUNS_NAMED else []
    return ", ".join([*said, *more])


def _dated(day: date) -> str:
    return f"{month_day(day)} {day.year}"
