"""The command: page, JSON, exit status, and where it finds its records."""

import json
import subprocess
import sys
from datetime import date
from pathlib import Path

import jsonschema
import pytest

from soakbook.cli.options import SCHEMAS
from soakbook.truth.__main__ import data_folder, main
from soakbook.truth.page import WIDTH
from tests.truth.made import of_itself, weather, write

ROWS = weather(date(2015, 4, 1), 90)
MISSED = "[targets]\nub = 0.000001\n"


def rows() -> list[dict[str, str]]:
    return [{**row, "et_mm": "0", "percolation_mm": "0"} for row in ROWS]


def a_record(folder: Path, more: str = "") -> str:
    """A record whose sensors read a little off what the balance makes."""
    return str(
        of_itself(folder, rows(), change=lambda day, theta: theta + day % 3 / 100, more=more)
    )


def test_a_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([a_record(tmp_path)]) == 0
    page, errors = capsys.readouterr()
    for words in ("Made   [made]", "silt loam, roots 0-50 cm, sensors at 10, 30 cm", "nothing fitted",
                  "after one soaked look", "a feel every 3rd day", "evaporation, mm a day", "percolation, mm",
                  "<= 0.05   met"):  # fmt: skip
        assert words in page
    assert max(map(len, page.splitlines())) <= WIDTH
    assert "1 records in" in errors


def test_json_keeps_to_its_schema(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "bad").mkdir()
    bad = write(tmp_path / "bad", rows(), {"soil": '"chalk"'})
    assert main([a_record(tmp_path), str(bad), "--json"]) == 2
    report = json.loads(capsys.readouterr().out)
    schema = json.loads((SCHEMAS / "truth.json").read_text(encoding="utf-8"))
    jsonschema.validate(report, schema)
    assert report["schema"] == "soakbook.truth/1"
    assert report["records"][0]["targets"][0]["met"] is True
    assert report["records"][0]["judged"] == 4
    assert (report["asked"], report["judged"]) == (4, 4)
    assert report["met"] is not True
    assert "chalk" in report["refused"][0]["why"]


def test_a_missed_target_is_said_and_fails_only_when_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = a_record(tmp_path, MISSED)
    assert main([record]) == 0
    assert "<= 1e-06  MISSED" in capsys.readouterr().out
    assert main([record, "--check"]) == 1


def test_a_target_that_cannot_be_judged_is_neither_met_nor_missed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = a_record(tmp_path, "[targets]\net_rmse_mm = 5\npercolation_most = 9\n")
    bare = [{name: row[name] for name in row if name != "et_mm"} for row in rows()]
    write(tmp_path, bare, more="[targets]\net_rmse_mm = 5\npercolation_least = 0\n")
    assert main([record, "--check"]) == 0
    assert "targets, 0 of 2 judged" in capsys.readouterr().out


def test_a_lysimeter_without_targets_of_its_own_has_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bare = [{name: row[name] for name in row if not name.startswith("vwc")} for row in rows()]
    assert main([str(write(tmp_path, bare, {"sensor_depths_cm": None}))]) == 0
    page = capsys.readouterr().out
    assert "no target" in page
    assert "in band\n" not in page
    assert "source: not said; licence: not said" in page


def test_no_such_record(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["nowhere.toml"]) == 2
    out, errors = capsys.readouterr()
    assert "nowhere.toml could not be read" in out
    assert "can be read" in errors


def test_records_are_looked_for_here_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert data_folder().name == "data"
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "mine.toml").write_text("")
    assert data_folder() == tmp_path / "data"


def test_a_reader_that_leaves_early_is_no_fault(tmp_path: Path) -> None:
    record = a_record(tmp_path)
    command = [sys.executable, "-m", "soakbook.truth", record, "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as truth:
        assert truth.stdout is not None
        assert truth.stderr is not None
        truth.stdout.close()
        errors = truth.stderr.read()
    assert b"Traceback" not in errors
    assert truth.returncode == 0
