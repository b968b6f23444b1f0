"""The frames as files in a folder of their own, CSV or Parquet, whole or not at all."""

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

import pandas as pd

from soakbook.account.documents.missing import of_extra
from soakbook.account.frames import WAYS, columns_frame, frames_of
from soakbook.account.reviewed import Account
from soakbook.account.ways import Way, what_if_frame
from soakbook.services.folder.writing import new_folder

Form = Literal["csv", "parquet"]

PYARROW = "pyarrow, which writes Parquet"


def export_frames(
    account: Account, folder: Path, form: Form, ways: Sequence[Way] | None = None
) -> dict[str, int]:
    """Write every frame into a folder that is new or empty, and `columns` which says what they hold.

    Parameters
    ----------
    account : Account
    folder : Path
    form : str
        "csv": UTF-8, numbers in full, nothing where nothing is known; "parquet": with their types.
    ways : sequence of Way, optional
        The season as it might have been, a table more.

    Returns
    -------
    dict of str to int
        Rows by file name.

    Raises
    ------
    InputError
        Something is in the way; or Parquet is asked for and its library is not there.
    BookError
        The folder cannot be written.
    """
    frames = frames_of(account)
    if ways is not None:
        frames[WAYS] = what_if_frame(ways)
    frames["columns"] = columns_frame(with_ways=ways is not None)
    if form == "parquet":
        with of_extra("parquet", PYARROW):
            import pyarrow  # noqa: F401
    rows = {}
    with new_folder(folder) as part:
        for name, frame in frames.items():
            file = f"{name}.{form}"
            if form == "csv":
                _joined(frame).to_csv(
                    part / file, index=False, encoding="utf-8", lineterminator="\r\n"
                )
            else:
                _joined(frame).to_parquet(part / file, index=False)
            rows[file] = len(frame)
    return rows


def _joined(frame: pd.DataFrame) -> pd.DataFrame:
    """Columns of several texts as one text each."""
    several = [
        str(name)
        for name in frame.columns
        if any(isinstance(one, tuple) for one in frame[name].head(1))
    ]
    return frame.assign(**{name: frame[name].map(" ".join) for name in several})
