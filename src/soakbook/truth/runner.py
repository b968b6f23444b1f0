"""Records one after the other: what can be read is judged, what cannot is named."""

from collections.abc import Sequence
from pathlib import Path

from soakbook.errors import InputError
from soakbook.truth.feels import MEMBERS
from soakbook.truth.hands import HANDS
from soakbook.truth.judging import judged
from soakbook.truth.record import read_record
from soakbook.truth.report import TRUTH_SCHEMA, RecordReport, Refused, TruthReport
from soakbook.truth.series import read_series
from soakbook.truth.targets import tally


def report_on(paths: Sequence[Path], weather_alone: Sequence[str] = ()) -> TruthReport:
    """The report on some RECORD.toml files, in the order given, and the names of tables that have none."""
    records: list[RecordReport] = []
    refused: list[Refused] = []
    for path in paths:
        try:
            record = read_record(path)
            records.append(judged(record, read_series(record)))
        except InputError as fault:
            refused.append(Refused(path.name, str(fault)))
    come_of = tally([one for record in records for one in record.targets])
    return TruthReport(
        schema=TRUTH_SCHEMA,
        members=MEMBERS,
        hands=HANDS,
        records=tuple(records),
        refused=tuple(refused),
        weather_alone=tuple(weather_alone),
        asked=come_of.asked,
        judged=come_of.judged,
        met=None if come_of.met and refused else come_of.met,
    )


def records_in(folder: Path) -> tuple[list[Path], tuple[str, ...]]:
    """The records of a folder, and the names of its tables that have no description."""
    described = sorted(folder.glob("*.toml"))
    names = {path.stem for path in described}
    alone = [path.name for path in sorted(folder.glob("*.csv")) if path.stem not in names]
    return described, tuple(alone)
