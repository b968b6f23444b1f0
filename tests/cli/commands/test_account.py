"""`account`: printed, written, exported; and every slip is one sentence with nothing half written."""

import json
import sys
from datetime import UTC, datetime
from pathlib import Path

import jsonschema
import pytest

import soakbook.account.what_if
from soakbook.account.ways import ByRound, Doubt, Given, Way
from soakbook.cli import options
from soakbook.cli.main import main
from soakbook.cli.options import SCHEMAS
from soakbook.services.books import SPECIMEN
from tests.cli.conftest import Ran
from tests.cli.words import amiss

SPRING = ("2031", "--specimen", "--on", "2031-04-15")
NONE = Doubt(0.0, 0.0, 0.0)
ROUND = ByRound(NONE, NONE, NONE, NONE, NONE, NONE)
WAYS = (Way("as_it_was", "as it was", "", Given(9.0, 1, Doubt(271.0, 5.0, 345.0), NONE), ROUND),)


class Account:
    """Runs `soakbook account`."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, *words: object) -> Ran:
        status = main(["account", *map(str, words)])
        out, err = self.capsys.readouterr()
        return Ran(status, out, err)


@pytest.fixture
def account(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Account:
    monkeypatch.setattr(options, "now", lambda: datetime(2031, 11, 20, 9, tzinfo=UTC))
    return Account(capsys)


@pytest.mark.parametrize("width", ["60", "80"])
def test_the_page_is_in_a_gardener_s_words_and_as_wide_as_the_screen(
    account: Account, width: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", width)
    ran = account("2031", "--specimen")
    assert ran.status == 0
    assert amiss(ran.out, int(width)) == []
    words = " ".join(ran.out.split())
    assert words.startswith("THE SEASON'S ACCOUNT 2031 ")
    assert "Given by hand 32.2 m³, 3.7 m³ of it not from the mains." in words
    assert "What it suggests" in words


def test_before_the_season_is_over_it_is_so_far_and_suggests_nothing(account: Account) -> None:
    out = account(*SPRING).out
    assert "THE SEASON'S ACCOUNT 2031 SO FAR" in out
    assert "What it suggests" not in out


def test_json_is_the_account_and_keeps_to_its_schema(account: Account) -> None:
    report = json.loads(account(*SPRING, "--json").out)
    jsonschema.validate(report, json.loads((SCHEMAS / "account.json").read_text(encoding="utf-8")))
    assert report["closed"] is False
    assert report["what_if"] is None


def test_documents_and_tables_are_written_whole_and_for_their_owner_alone(
    account: Account, tmp_path: Path
) -> None:
    html, pdf, csv, parquet = (tmp_path / name for name in ("a.html", "a.pdf", "csv", "parquet"))
    csv.mkdir()  # empty: taken
    ran = account(*SPRING, "--html", html, "--pdf", pdf, "--csv", csv, "--parquet", parquet)
    assert ran.status == 0
    said = "".join(ran.out.split())
    assert all(str(one) in said for one in (html, pdf, csv, parquet))
    assert html.read_bytes().startswith(b"<!doctype html>")
    assert pdf.read_bytes().startswith(b"%PDF-")
    assert {"beds.csv", "days.csv", "columns.csv"} <= {one.name for one in csv.iterdir()}
    assert {one.stem for one in csv.iterdir()} == {one.stem for one in parquet.iterdir()}
    assert sorted(tmp_path.iterdir()) == sorted([html, pdf, csv, parquet])
    assert oct(html.stat().st_mode)[-3:] == oct(pdf.stat().st_mode)[-3:] == "600"
    assert b"What if" not in html.read_bytes()


def test_the_document_of_a_season_that_is_over_has_what_if(
    account: Account, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(soakbook.account.what_if, "what_if", lambda *_: WAYS)
    assert account("2031", "--specimen", "--html", tmp_path / "a.html").status == 0
    page = (tmp_path / "a.html").read_text(encoding="utf-8")
    assert '<h2 id="what-if-title">What if</h2>' in page
    assert "271 (5 to 345)" in page


def test_a_file_is_written_over_only_when_that_is_said(account: Account, tmp_path: Path) -> None:
    file = tmp_path / "a.html"
    file.write_text("mine")
    ran = account(*SPRING, "--html", file)
    assert (ran.status, file.read_text()) == (2, "mine")
    assert "html: " in ran.err
    assert "--force" in ran.err
    assert account(*SPRING, "--html", file, "--force").status == 0
    assert file.read_text(encoding="utf-8").startswith("<!doctype html>")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--html", "{0}/none/a.html"), "html: "),
        (("--pdf", "{0}"), "pdf: "),
        (("--html", "{0}/a", "--pdf", "{0}/a"), "another place than that of --html"),
        (("--html", "{0}/a", "--pdf", "{0}/b/../a"), "another place than that of --html"),
        (("--csv", "{0}/full"), "csv: "),
        (("--parquet", "{0}/none/x"), "parquet: "),
        (("--csv", "{0}/x", "--parquet", "{0}/x"), "another place than that of --csv"),
        (("--csv", "{0}/x", "--html", "{0}/full"), "html: "),
        (("--force", "--html", str(SPECIMEN)), "another file than the book"),
    ],
)
def test_a_place_that_will_not_do_is_named_and_nothing_is_written(
    words: tuple[str, ...], says: str, account: Account, tmp_path: Path
) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "one").write_text("mine")
    before = SPECIMEN.read_bytes()
    ran = account(*SPRING, *(one.format(tmp_path) for one in words))
    assert ran.status == 2
    assert says in ran.err
    assert len(ran.err.splitlines()) == 1
    assert [one.name for one in tmp_path.iterdir()] == ["full"]
    assert SPECIMEN.read_bytes() == before


@pytest.mark.parametrize(
    ("option", "module", "extra"),
    [
        ("--html", "jinja2", "reports"),
        ("--html", "matplotlib", "reports"),
        ("--pdf", "typst", "reports"),
        ("--parquet", "pyarrow", "parquet"),
    ],
)
def test_a_missing_extra_is_one_line_before_anything_is_reckoned(
    option: str, module: str, extra: str,
    account: Account, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setitem(sys.modules, module, None)
    ran = account("2031", "--specimen", option, tmp_path / "a")
    assert ran.status == 2
    assert f"pip install 'soakbook[{extra}]'" in ran.err
    assert len(ran.err.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "says"),
    [(("203l",), "year: '203l'"), (("2029",), "year: 2029"), (("--on", "1jan2099"), "on: '1jan2099'")],
)  # fmt: skip
def test_a_year_or_a_day_that_cannot_be_is_named(
    words: tuple[str, ...], says: str, account: Account
) -> None:
    ran = account(*words, "--specimen")
    assert ran.status == 2
    assert says in ran.err
