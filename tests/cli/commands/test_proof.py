"""`proof`: printed, written, checked again; and every slip is one sentence with nothing half written."""

import json
import shutil
from datetime import UTC, datetime
from pathlib import Path

import jsonschema
import pytest

from soakbook.cli import options
from soakbook.cli.main import main
from soakbook.cli.options import SCHEMAS
from soakbook.services.books import SPECIMEN
from tests.cli.conftest import Ran
from tests.cli.words import amiss

MAY = ("1may", "31may", "--specimen")


class Proof:
    """Runs `soakbook proof`."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, *words: object) -> Ran:
        status = main(["proof", *map(str, words)])
        out, err = self.capsys.readouterr()
        return Ran(status, out, err)


@pytest.fixture
def proof(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Proof:
    monkeypatch.setattr(options, "now", lambda: datetime(2031, 11, 20, 9, tzinfo=UTC))
    return Proof(capsys)


@pytest.mark.parametrize("width", ["60", "80"])
def test_the_page_is_in_a_gardener_s_words_and_as_wide_as_the_screen(
    proof: Proof, width: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", width)
    ran = proof(*MAY)
    assert ran.status == 0
    *lines, digest = ran.out.splitlines()
    assert len(digest) == 64  # which is not broken
    assert amiss("\n".join(lines), int(width)) == []
    words = " ".join(ran.out.split())
    assert words.startswith(
        "THE PROOF The Corrody, Marl Hatherby Thu 1 May 2031 to Sat 31 May 2031"
    )
    assert "Given 6,174.5 L in 189 waterings" in words
    assert "gauge read 22:30: 15.6 mm since 18:00, Ann" in words
    assert "looked at and left: rain in the air, Ann" in words


def test_json_is_the_proof_and_keeps_to_its_schema(proof: Proof) -> None:
    report = json.loads(proof(*MAY, "--json").out)
    jsonschema.validate(report, json.loads((SCHEMAS / "proof.json").read_text(encoding="utf-8")))
    assert report["sha256"] in proof(*MAY).out


def test_files_are_written_and_verified_and_the_report_keeps_to_its_schema(
    proof: Proof, tmp_path: Path
) -> None:
    page, pdf = tmp_path / "may.html", tmp_path / "may.pdf"
    ran = proof(*MAY, "--html", page, "--pdf", pdf)
    assert ran.status == 0
    assert sorted(one.name for one in tmp_path.iterdir()) == ["may.html", "may.pdf"]
    schema = json.loads((SCHEMAS / "verified.json").read_text(encoding="utf-8"))
    for file in (page, pdf):
        found = proof("--verify", file, "--specimen", "--json")
        assert found.status == 0
        report = json.loads(found.out)
        jsonschema.validate(report, schema)
        assert (report["verified"], report["book"]) == (True, "same")
        assert report["sha256"] in ran.out
    said = proof("--verify", pdf)
    assert said.status == 0
    assert said.out.startswith("Verified:")
    assert "held against no book" in said.out


def test_a_changed_file_is_not_verified(proof: Proof, tmp_path: Path) -> None:
    page = tmp_path / "may.html"
    proof(*MAY, "--html", page)
    page.write_bytes(page.read_bytes().replace(b"6,174.5", b"9,174.5"))
    ran = proof("--verify", page, "--specimen")
    assert ran.status == 2
    assert ran.out.startswith("NOT VERIFIED:")
    assert "CHANGED: the page is not what is set from the data it carries." in ran.out
    assert amiss(ran.out.partition("The data")[2].replace(str(SPECIMEN), "")) == []


def test_a_file_is_written_over_only_when_forced_and_the_book_never(
    proof: Proof, tmp_path: Path
) -> None:
    page, book = tmp_path / "may.html", tmp_path / "corrody.book"
    shutil.copyfile(SPECIMEN, book)
    days = ("1may2031", "3may2031", "--book", book)
    page.write_text("mine")
    ran = proof(*days, "--html", page)
    assert (ran.status, page.read_text()) == (2, "mine")
    assert "--force" in ran.err
    assert proof(*days, "--html", page, "--force").status == 0
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    ran = proof(*days, "--pdf", book, "--force")
    assert ran.status == 2
    assert "another file than the book" in ran.err
    assert book.read_bytes() == SPECIMEN.read_bytes()


def test_where_one_of_two_files_cannot_be_none_is(proof: Proof, tmp_path: Path) -> None:
    page, pdf = tmp_path / "may.html", tmp_path / "may.pdf"
    pdf.write_text("mine")
    assert proof(*MAY, "--html", page, "--pdf", pdf).status == 2
    assert proof(*MAY, "--html", page, "--pdf", page).status == 2
    same = tmp_path / ".." / tmp_path.name / page.name
    for force in ([], ["--force"]):
        ran = proof(*MAY, "--html", page, "--pdf", same, *force)
        assert (ran.status, "another file than the HTML's" in ran.err) == (2, True)
    assert [one.name for one in tmp_path.iterdir()] == ["may.pdf"]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("", "Missing argument 'FROM' (see soakbook proof -h)"),
        ("1may", "Missing argument 'UNTIL' (see soakbook proof -h)"),
        ("31feb 1may --specimen", "from: '31feb' cannot be right; 2031 has no such day"),
        ("1may someday --specimen", "until: 'someday' cannot be right; write 1apr"),
        ("5may 1may --specimen", "until: '1may' cannot be right; a day not before 5may"),
        ("2031-05-05 2031-05-01 --specimen", "until: '2031-05-01' cannot be right; a day not"),
        ("1oct2031 1nov2031 --specimen", "until: '2031-11-01' cannot be right; a day that has"),
        ("1jan2031 2jan2031 --specimen", "from, until: '2031-01-01 to 2031-01-02' cannot be"),
        ("1may 2may --specimen --html nowhere/a.html", "html: 'nowhere/a.html' cannot be right"),
        (f"1may 2may --specimen --html {'a' * 300}", f"{'a' * 300} cannot be made: File name too"),
        ("1may 2may --specimen --pdf=", "pdf: '.' cannot be right; a file"),
        (
            "1may 2may --specimen --pdf /dev/null --force",
            "pdf: '/dev/null' cannot be right; a file",
        ),
        ("--verify nowhere", "nowhere cannot be read: No such file or directory"),
        ("--verify a --pdf b --force", "--verify checks a file: leave out --pdf and --force"),
        ("1may 2may --verify a", "--verify checks a file: leave out FROM and UNTIL"),
        ("1may 2may --book nowhere.book", "there is no book at nowhere.book"),
    ],
)
def test_a_slip_is_one_sentence(
    proof: Proof, words: str, sentence: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    ran = proof(*words.split())
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"soakbook: {sentence}")
    assert len(ran.err.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_what_is_no_proof_is_said_to_be_none(proof: Proof, tmp_path: Path) -> None:
    (tmp_path / "x").write_text("<p>A page.")
    ran = proof("--verify", tmp_path / "x")
    assert ran.status == 2
    assert ran.err.endswith("a proof that soakbook made, as JSON, HTML or PDF\n")


def test_a_last_day_without_a_year_is_the_next_after_the_first(proof: Proof) -> None:
    assert "Tue 1 July 2031 to Sat 5 July 2031" in proof("1jul2031", "5jul", "--specimen").out
