"""A folder comes in whole or not at all; what differs holds as it was changed last."""

import csv
import os
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from soakbook.errors import BookError, InputError
from soakbook.services import entries, setup
from soakbook.services.exporting import export
from soakbook.services.folder import reading
from soakbook.services.folder.columns import FORECASTS
from soakbook.services.importing import bring_back
from tests.properties.test_in_and_out import content, files

NOW = datetime(2031, 5, 15, 6, 30, tzinfo=UTC)
LATER = NOW + timedelta(hours=3)
POSIX = pytest.mark.skipif(os.name != "posix", reason="links and pipes")


@pytest.fixture
def folder(garden: Path, tmp_path: Path) -> Path:
    """The garden's book as a folder, with a soak and a look in it."""
    entries.soak(garden, ["chapel"], "20l", now=NOW, by="Ann")
    entries.left(garden, ["dole"], "too wet", now=NOW, by="Tom")
    out = tmp_path / "out"
    export(garden, out)
    return out


def edit(file: Path, old: str, new: str) -> None:
    """Change a file of the folder where that text stands first."""
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8", newline="")


def test_the_book_of_the_same_garden_learns_what_it_does_not_know(
    garden: Path, folder: Path, tmp_path: Path
) -> None:
    other = tmp_path / "other.book"
    bring_back(other, folder, new=True)
    setup.bed(other, "well", now=LATER, area="4m2", soil="loam")
    entries.soak(other, ["chapel"], "10l", now=LATER, by="Tom")
    export(other, tmp_path / "from other")
    before = content(garden)
    dry = bring_back(garden, tmp_path / "from other", dry_run=True)
    assert content(garden) == before
    wet = bring_back(garden, tmp_path / "from other")
    assert dry["changed"] | {"dry_run": False} == wet["changed"]
    added = {name: count for name, count in wet["changed"]["added"].items() if count}
    assert added == {"records": 1, "changes": 1, "entries": 1}
    assert content(garden) == content(other)
    again = bring_back(garden, tmp_path / "from other")
    assert not any(again["changed"]["added"].values())
    assert content(garden) == content(other)


@pytest.mark.parametrize(
    ("there_later", "holds", "soil"), [(True, "folder", "clay"), (False, "book", "silt")]
)
def test_a_bed_that_differs_holds_as_it_was_changed_last(
    there_later: bool, holds: str, soil: str, garden: Path, folder: Path, tmp_path: Path
) -> None:
    other = tmp_path / "other.book"
    bring_back(other, folder, new=True)
    here, there = (NOW, LATER) if there_later else (LATER, NOW)
    setup.bed(garden, "yard", now=here, soil="silt")
    setup.bed(other, "yard", now=there, soil="clay")
    export(other, tmp_path / "from other")
    answer = bring_back(garden, tmp_path / "from other")
    (one,) = answer["changed"]["differing"]
    assert (one["what"], one["holds"]) == ("bed", holds)
    assert any("The bed yard is not the same" in text for text in answer["say"])
    (row,) = [row for row in content(garden)["bed"] if "yard" in row]
    assert soil in row


def test_a_rule_and_a_price_that_differ_are_called_by_their_days(
    garden: Path, folder: Path, tmp_path: Path
) -> None:
    setup.restriction(
        garden, "2031-07-18", "2031-09-05", now=NOW, tool="hose", source="mains", text="none"
    )
    setup.rate(garden, "2031-04-01", "water", "4", now=NOW)
    export(garden, tmp_path / "ruled")
    edit(tmp_path / "ruled" / "garden.toml", 'text = "none"', 'text = "some"')
    edit(tmp_path / "ruled" / "garden.toml", "price = 4.0", "price = 5.0")
    answer = bring_back(garden, tmp_path / "ruled")
    names = [one["name"] for one in answer["changed"]["differing"]]
    assert names == ["The rule from 2031-07-18 to 2031-09-05", "The price of water from 2031-04-01"]


def test_a_hand_edited_entry_is_not_taken_for_another(garden: Path, folder: Path) -> None:
    edit(folder / "entries.csv", "too wet", "far too wet")
    before = content(garden)
    answer = bring_back(garden, folder)
    assert [one["holds"] for one in answer["changed"]["differing"]] == ["book"]
    assert content(garden) == before


def test_another_garden_needs_new_and_new_needs_a_free_place(
    folder: Path, new_book: Path, tmp_path: Path
) -> None:
    for dry_run in (True, False):
        with pytest.raises(InputError, match="--new begins a book of its own"):
            bring_back(new_book, folder, dry_run=dry_run)
        with pytest.raises(BookError, match="already"):
            bring_back(new_book, folder, new=True, dry_run=dry_run)
    bring_back(tmp_path / "free.book", folder, new=True, dry_run=True)
    assert not (tmp_path / "free.book").exists()


def replaced(file: str, old: str, new: str) -> Callable[[Path], None]:
    return lambda folder: edit(folder / file, old, new)


def bytes_of(file: str, content: bytes) -> Callable[[Path], None]:
    def put(folder: Path) -> None:
        (folder / file).write_bytes(content)

    return put


def added(file: str, text: str) -> Callable[[Path], None]:
    def put(folder: Path) -> None:
        with (folder / file).open("a", encoding="utf-8", newline="") as end:
            end.write(text)

    return put


def copied_line(file: str, *changes: tuple[str, str]) -> Callable[[Path], None]:
    """The last line of a file once more, changed."""

    def put(folder: Path) -> None:
        line = (folder / file).read_text(encoding="utf-8").splitlines()[-1]
        for old, new in changes:
            assert old in line, line
            line = line.replace(old, new, 1)
        added(file, f"{line}\r\n")(folder)

    return put


def nowhere(folder: Path) -> None:
    """Point the last entry to a bed that is not there."""
    file = folder / "entries.csv"
    *lines, last = file.read_text(encoding="utf-8").splitlines()
    cells = last.split(",")
    cells[lines[0].split(",").index("bed_uid")] = "nowhere"
    file.write_text("\r\n".join([*lines, ",".join(cells), ""]), encoding="utf-8", newline="")


SPOILED: dict[str, tuple[Callable[[Path], None], str]] = {
    "no file": (lambda folder: (folder / "weather.csv").unlink(), r"weather\.csv is missing"),
    "a zip": (bytes_of("entries.csv", b"PK\x03\x04\x14\x00\xff"), r"entries\.csv: 'a zip'"),
    "a picture": (bytes_of("weather.csv", b"\x89PNG\r\n\x1a\n\x00"), r"weather\.csv: 'something"),
    "utf-16": (bytes_of("garden.toml", "x = 1".encode("utf-16")), r"garden\.toml: 'something"),
    "NUL": (added("entries.csv", "\0"), r"entries\.csv: 'something else'"),
    "empty": (bytes_of("entries.csv", b""), r"entries\.csv line 1, kind is missing"),
    "not toml": (replaced("garden.toml", "[garden]", "[garden"), r"garden\.toml line \d+: '\[garden'"),
    "format": (replaced("garden.toml", "export/1", "export/9"), r"format: 'soakbook\.export/9'"),
    "brackets": (bytes_of("garden.toml", b"a = " + b"[" * 100_000), r"garden\.toml"),
    "digits": (bytes_of("garden.toml", b"a = " + b"9" * 10_000), r"garden\.toml"),
    "unknown table": (added("garden.toml", "[stove]\n"), r"garden\.toml line \d+: 'stove'"),
    "unknown field": (replaced("garden.toml", "can_l", "pan_l"), r"garden.*pan l: 10"),
    "a bound": (replaced("garden.toml", "area_m2 = 18.0", "area_m2 = -1"), r"line \d+, bed 1, area: -1"),
    "true for a number": (replaced("garden.toml", "area_m2 = 18.0", "area_m2 = true"), "area: yes"),
    "nan": (replaced("garden.toml", "area_m2 = 18.0", "area_m2 = nan"), "area: nan"),
    "a soil": (replaced("garden.toml", 'soil = "clay"', 'soil = "gold"'), "bed 2, soil: 'gold'"),
    "no tap": (replaced("garden.toml", 'tap = "A"', 'tap = "Z"'), "bed 1, tap: 'Z'"),
    "a year": (replaced("garden.toml", "planted_on = 2031", "planted_on = 0001"), "planted_on: '0001"),
    "a long uid": (replaced("garden.toml", 'uid = "', 'uid = "' + "u" * 200), r"uid: 'uuu.*1 to 100"),
    "a long name": (replaced("garden.toml", "The Abbey", "x" * 20_000), "at most 10,000 letters"),
    "a log of nothing": (replaced("garden.toml", 'what = "garden"', 'what = "moon"'), "what: 'moon'"),
    "a log that is no record": (replaced("garden.toml", 'after = "{', 'after = "['), "after: '\\["),
    "a log of half a record": (
        replaced("garden.toml", '\\"name\\": ', '\\"game\\": '),
        r"change 1, after: .* all fields of a garden as the book wrote them",
    ),
    "a log of a record that cannot be": (
        replaced("garden.toml", '\\"area_m2\\": 1', '\\"area_m2\\": -1'),
        r"change \d+, after, area.*-1",
    ),
    "a log without a zone": (replaced("garden.toml", '+00:00"', '"'), r"change 1, at: '2031"),
    "a column more": (replaced("entries.csv", "kind,", "kind,colour,"), r"line 1: 'colour'.*no such"),
    "a column less": (replaced("entries.csv", "kind,uid,", "kind,"), r"line 1, uid is missing"),
    "a column twice": (replaced("entries.csv", ",note,", ",uid,"), r"line 1: 'uid'.*once"),
    "a cell less": (added("entries.csv", "soak,1\r\n"), r"entries\.csv line 5, cells: '2'"),
    "a quote": (added("entries.csv", 'soak,"1'), r"entries\.csv line 5: 'unexpected end of data'"),
    "a long cell": (copied_line("entries.csv", ("left", "x" * 20_000)), "kind: 'xxx.*at most 10,000"),
    "a kind": (copied_line("entries.csv", ("left,", "dance,")), r"line 5, kind: 'dance'.*soak, rain"),
    "twice": (copied_line("entries.csv"), r"line 5, uid: .*each once"),
    "a foreign cell": (
        copied_line("entries.csv", ("left,", "left,x"), ("too wet", "too wet,5")),
        r"line 5, cells",
    ),
    "a bed": (nowhere, r"line \d, bed_uid: 'nowhere'"),
    "a reason": (replaced("entries.csv", "too wet", ""), r"line 4, reason is missing"),
    "litres": (replaced("entries.csv", ",20.0,", ",-20.0,"), r"line 3, water given: -20"),
    "litres in words": (replaced("entries.csv", ",20.0,", ',"20,5",'), r"line 3, litres: '20,5'"),
    "a day": (replaced("weather.csv", "2031-01-15", "2031-02-30"), r"line 2, day: '2031-02-30'"),
    "weather's kind": (replaced("weather.csv", "measured", "dreamt"), r"line 2, kind: 'dreamt'"),
    "an arrival": (replaced("weather.csv", "the shed", "the barn"), r"line 3, arrival: '1'"),
    "a value": (replaced("weather.csv", ",tmin_c,1.0", ",tmin_c,"), "value is missing"),
}  # fmt: skip


@pytest.mark.parametrize("name", SPOILED)
def test_what_cannot_be_right_is_one_sentence_and_nothing_is_taken(
    name: str, garden: Path, folder: Path, tmp_path: Path
) -> None:
    spoil, sentence = SPOILED[name]
    spoil(folder)
    before, there = garden.read_bytes(), sorted(path.name for path in tmp_path.iterdir())
    with pytest.raises(InputError, match=sentence) as refused:
        bring_back(tmp_path / "again.book", folder, new=True)
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 900
    assert sorted(path.name for path in tmp_path.iterdir()) == there
    assert garden.read_bytes() == before


def test_a_fault_at_the_very_end_takes_back_all_that_was_taken(
    garden: Path, folder: Path, tmp_path: Path
) -> None:
    other = tmp_path / "other.book"
    bring_back(other, folder, new=True)
    setup.bed(other, "well", now=LATER, area="4m2", soil="loam")
    entries.soak(other, ["chapel"], "10l", now=LATER, by="Tom")
    export(other, tmp_path / "from other")
    added("asked.csv", "a service,rain,2031-05-15T06:00:00+00:00,lost,,\r\n")(
        tmp_path / "from other"
    )
    before = content(garden)
    for dry_run in (True, False):
        with pytest.raises(InputError, match="line 2, came: 'lost'"):
            bring_back(garden, tmp_path / "from other", dry_run=dry_run)
    assert content(garden) == before


@POSIX
def test_links_and_pipes_are_not_followed(folder: Path, tmp_path: Path) -> None:
    for place in ("garden.toml", "entries.csv"):
        aside = tmp_path / place
        shutil.move(folder / place, aside)
        (folder / place).symlink_to(aside)
        with pytest.raises(InputError, match="a link"):
            bring_back(tmp_path / "again.book", folder, new=True)
        (folder / place).unlink()
        os.mkfifo(folder / place)
        with pytest.raises(InputError, match="no plain file"):
            bring_back(tmp_path / "again.book", folder, new=True)
        (folder / place).unlink()
        (folder / place).mkdir()
        with pytest.raises(InputError, match=place):
            bring_back(tmp_path / "again.book", folder, new=True)
        (folder / place).rmdir()
        shutil.move(aside, folder / place)


def test_large_files_and_many_rows_are_refused(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reading, "FILE_ROWS", 2)
    with pytest.raises(InputError, match="at most 2 in one file"):
        bring_back(tmp_path / "again.book", folder, new=True)
    monkeypatch.setattr(reading, "FILE_BYTES", 1000)
    with pytest.raises(InputError, match="at most 0 MB"):
        bring_back(tmp_path / "again.book", folder, new=True)


def test_a_folder_that_cannot_be_called_so_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="too long"):
        bring_back(tmp_path / "again.book", tmp_path / ("e" * 300), new=True)


def test_a_folder_that_is_none(folder: Path, tmp_path: Path) -> None:
    zipped = tmp_path / "out.zip"
    zipped.write_bytes(b"PK\x03\x04")
    with pytest.raises(InputError, match="unpack it first"):
        bring_back(tmp_path / "again.book", zipped, new=True)
    with pytest.raises(InputError, match="there is none of that name"):
        bring_back(tmp_path / "again.book", tmp_path / "nothing", new=True)


@pytest.mark.parametrize("end", ["\n", "\r", "\r\n"])
def test_byte_order_marks_and_other_line_ends_are_taken(
    end: str, garden: Path, folder: Path, tmp_path: Path
) -> None:
    whole = files(folder)
    for path in folder.iterdir():
        text = path.read_text(encoding="utf-8")
        if path.suffix == ".csv":
            text = text.replace("\n", end)
        path.write_bytes(b"\xef\xbb\xbf" + text.encode())
    bring_back(tmp_path / "again.book", folder, new=True)
    assert content(tmp_path / "again.book") == content(garden)
    export(tmp_path / "again.book", tmp_path / "twice")
    assert files(tmp_path / "twice") == whole


def test_columns_may_stand_in_any_order(garden: Path, folder: Path, tmp_path: Path) -> None:
    file = folder / "weather.csv"
    with file.open(encoding="utf-8", newline="") as text:
        rows = [list(reversed(row)) for row in csv.reader(text)]
    with file.open("w", encoding="utf-8", newline="") as text:
        csv.writer(text).writerows(rows)
    bring_back(tmp_path / "again.book", folder, new=True)
    assert content(tmp_path / "again.book") == content(garden)


def test_two_corrections_of_one_entry_are_refused(garden: Path, folder: Path) -> None:
    lines = (folder / "entries.csv").read_text(encoding="utf-8").splitlines()
    place, uid = lines[0].split(",").index("supersedes"), lines[-1].split(",")[1]
    for name in ("one", "two"):
        cells = lines[-1].split(",")
        cells[1], cells[place] = name, uid
        added("entries.csv", ",".join(cells) + "\r\n")(folder)
    with pytest.raises(InputError, match="nothing supersedes yet: one does"):
        bring_back(garden, folder)


@pytest.mark.parametrize(
    ("day", "cells", "sentence"),
    [
        ("2031-02-01", {"et0_members_mm": "0.1 0.2"}, "et0_members_mm: '2 of them'.*as of rain, 3"),
        ("2031-02-01", {"rain_by_hour_mm": "0.1 0.2"}, "rain_by_hour_mm: '2 of them'.*23 to 25"),
        ("2031-02-01", {"rain_mm": "1e6"}, "rain_mm: 1e"),
        ("2031-02-01", {"rain_members_mm": "0.0 -1.5 2.0"}, "rain_members_mm: -1.5.*from 0 to"),
        ("2031-02-01", {"et0_mm": "-1000"}, "et0_mm: -1000.*from -20 to"),
        ("2031-02-01", {"from_hour": "24"}, "from_hour: 24"),
        ("2031-02-01", {"kind": "measured"}, "kind: 'measured'.*forecast"),
        ("2031-02-01", {"from_hour": "7"}, "arrival: '90'.*a whole day"),
        ("2031-02-02", {}, "line 3, day: '2031-02-02'.*each day once"),
    ],
)
def test_a_forecast_that_no_round_could_read_is_refused(
    day: str, cells: dict[str, str], sentence: str, folder: Path, tmp_path: Path
) -> None:
    issue = {
        "arrival": "90",
        "source": "a service",
        "kind": "forecast",
        "issued_at": "2031-02-01T05:00:00+00:00",
        "fetched_at": "2031-02-01T05:00:00+00:00",
        "day": day,
        "rain_members_mm": "0.0 1.5 2.0",
    }
    with (folder / "forecasts.csv").open("a", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, [column.name for column in FORECASTS.columns])
        writer.writerow(issue | cells)
        if day != "2031-02-01":
            writer.writerow(issue)
    with pytest.raises(InputError, match=sentence):
        bring_back(tmp_path / "again.book", folder, new=True)
