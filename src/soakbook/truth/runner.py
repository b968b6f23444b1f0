"""Records one after the other: what can be read is judged, what cannot is named."""

from collections.abc import Sequence
from pathlib import Path

from soakbook.errors import InputError
from soakbook.truth.feels import MEMBERS
from soakbook.truth.judging import judged
from soakbook.truth.record import read_record
from soakbook.truth.report import TRUTH_SCHEMA, RecordReport, Refused, TruthReport
from soakbook.truth.series import read_series
from soakbook.truth.soil_water import HANDS


def report_on(paths: Sequence[Path]) -> TruthReport:
    """The report on some RECORD.toml files, in the order given."""
    records: list[RecordReport] = []
    refused: list[Refused] = []
    for path in paths:
        try:
            record = read_record(path)
            records.append(judged(record, read_series(record)))
        except InputError as fault:
            refused.append(Refused(path.name, str(fault)))
    reached = [record.met for record in records if record.met is not None]
    return TruthReport(
        schema=TRUTH_SCHEMA,
        members=MEMBERS,
        hands=HANDS,
        records=tuple(records),
        refused=tuple(refused),
        met=all(reached) if reached else None,
    )


def records_in(folder: Path) -> tuple[list[Path], tuple[str, ...]]:
    """The records of a folder, and the names of its tables that have no description."""
    described = sorted(folder.glob("*.toml"))
    names = {path.stem for path in described}
    alone = [path.name for path in sorted(folder.glob("*.csv")) if path.stem not in names]
    return described, tuple(alone)
