"""Frames as files: what is read back is what there was, and every column is told of."""

from pathlib import Path

import pandas as pd
import pytest

from soakbook.account.export import Form, export_frames
from soakbook.account.frames import FRAMES, columns_frame, frames_of
from soakbook.account.reviewed import Account, account_of
from soakbook.account.ways import Way
from soakbook.errors import InputError

LISTS = {"entry_uids"}


def told_as_text(frame: pd.DataFrame) -> pd.DataFrame:
    """Columns of several texts as one text."""
    return frame.assign(**{name: frame[name].map(" ".join) for name in LISTS & set(frame)})


def test_every_column_there_is_documented_in_its_order(reviewed_specimen: Account) -> None:
    for name, frame in frames_of(reviewed_specimen).items():
        assert list(frame.columns) == list(FRAMES[name]), name
        assert all(FRAMES[name].values()), name
        assert isinstance(frame.index, pd.RangeIndex), name
        assert len(frame) > 0, name


def test_the_litres_and_lengths_say_their_unit() -> None:
    units = {"_l": "[L", "_mm": "[mm]", "_m2": "m2", "_c": "[degC]", "minutes": "[min]"}
    for _, row in columns_frame().iterrows():
        for end, unit in units.items():
            if row["column"].endswith(end) and not row["column"].endswith("litres_per_m2"):
                assert unit in row["meaning"], f"{row['frame']}.{row['column']}"


def test_parquet_reads_back_the_same(reviewed_specimen: Account, tmp_path: Path) -> None:
    rows = export_frames(reviewed_specimen, tmp_path / "out", "parquet")
    for name, frame in frames_of(reviewed_specimen).items():
        back = pd.read_parquet(tmp_path / "out" / f"{name}.parquet")
        pd.testing.assert_frame_equal(back, told_as_text(frame), check_categorical=True)
        assert rows[f"{name}.parquet"] == len(frame)


def test_csv_reads_back_the_same_numbers_to_the_last_bit(
    reviewed_specimen: Account, tmp_path: Path
) -> None:
    export_frames(reviewed_specimen, tmp_path / "out", "csv")
    for name, frame in frames_of(reviewed_specimen).items():
        wanted = told_as_text(frame)
        texts = [
            one
            for one in wanted
            if wanted[one].dtype.kind == "O" or wanted[one].dtype == "category"
        ]
        back = pd.read_csv(
            tmp_path / "out" / f"{name}.csv", dtype=dict.fromkeys(texts, str),
            float_precision="round_trip",
        )  # fmt: skip
        assert list(back.columns) == list(FRAMES[name])
        for column in wanted:
            there, here = wanted[column], back[column]
            if column in texts:
                assert here.fillna("").tolist() == there.astype("object").fillna("").tolist(), (
                    column
                )
            elif there.dtype.kind == "M":
                read = pd.to_datetime(here, utc=column == "at")
                assert (read.isna() == there.isna()).all()
                assert (read.dropna() == there.dropna()).all(), column
            else:
                pd.testing.assert_series_equal(here, there, check_dtype=False, check_exact=True)


def test_what_the_columns_hold_goes_with_them(reviewed_specimen: Account, tmp_path: Path) -> None:
    export_frames(reviewed_specimen, tmp_path / "out", "csv")
    pd.testing.assert_frame_equal(pd.read_csv(tmp_path / "out" / "columns.csv"), columns_frame())
    assert sorted(one.name for one in (tmp_path / "out").iterdir()) == sorted(
        f"{name}.csv" for name in (*FRAMES, "columns")
    )


def test_a_book_without_a_visit_is_written_too(garden: Path, tmp_path: Path) -> None:
    account = account_of(garden, 2031)
    assert account.visits.empty
    forms: tuple[Form, ...] = ("csv", "parquet")
    for form in forms:
        rows = export_frames(account, tmp_path / form, form)
        assert rows[f"visits.{form}"] == rows[f"waits.{form}"] == 0
    back = pd.read_parquet(tmp_path / "parquet" / "visits.parquet")
    assert list(back.columns) == list(FRAMES["visits"])
    assert len(pd.read_csv(tmp_path / "csv" / "sources.csv")) == 0


def test_a_folder_with_something_in_it_is_left_alone(
    reviewed_specimen: Account, tmp_path: Path
) -> None:
    (tmp_path / "note.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(InputError):
        export_frames(reviewed_specimen, tmp_path, "csv")
    assert [one.name for one in tmp_path.iterdir()] == ["note.txt"]


@pytest.mark.parametrize("form", ["csv", "parquet"])
def test_the_season_as_it_might_have_been_is_a_table_more(
    reviewed_specimen: Account, tmp_path: Path, form: Form
) -> None:
    ways = (Way("autumn", "planted on 1 October 2030", "dole", refused="no weather"),)
    rows = export_frames(reviewed_specimen, tmp_path / "out", form, ways)
    read = pd.read_csv if form == "csv" else pd.read_parquet
    back, told = (read(tmp_path / "out" / f"{name}.{form}") for name in ("ways", "columns"))
    assert list(back.columns) == list(told.loc[told["frame"] == "ways", "column"])
    assert (back["way"].item(), back["refused"].item()) == ("autumn", "no weather")
    assert rows[f"ways.{form}"] == 1
