"""A list of beds goes in whole."""

from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.services import setup
from soakbook.services.lists.sheet import Pasted
from soakbook.services.told import Report
from tests.cli.test_schemas import validate
from tests.services.lists.test_plantings import pages
from tests.services.looking import NOW


def listed(path: Path, text: str, **how: Any) -> Report:
    return setup.bed_list(path, Pasted("beds.csv", text.encode(), **how), now=NOW)


def test_a_list_equals_the_lines_of_it_typed(new_book: Path, tmp_path: Path) -> None:
    setup.tap(new_book, "A", now=NOW, fill="10l 43s")
    typed = tmp_path / "typed.book"
    typed.write_bytes(new_book.read_bytes())
    report = listed(
        new_book,
        "key;name;Area (m²);Soil type;Aspect;Tap;Hole\n"
        "chapel;Chapel Wall;18;sandy loam;south wall foot;A;\n"
        "dole;Dole Bed;22 m2;clay;;none;standing\n",
    )
    chapel = {"area": "18m2", "soil": "sandy loam", "place": "south wall foot", "tap": "A"}
    setup.bed(typed, "chapel", now=NOW, name="Chapel Wall", **chapel)
    dole = {"area": "22m2", "soil": "clay", "tap": "none", "hole": "standing"}
    setup.bed(typed, "dole", now=NOW, name="Dole Bed", **dole)
    found, expected = (
        [one._replace(uid="") for one in pages(book).beds] for book in (new_book, typed)
    )
    assert found == expected
    assert report["say"][0] == "2 new beds, 40 m² in all, from beds.csv."
    validate(report, "list")


def test_keys_are_made_of_names(new_book: Path) -> None:
    names = [
        "Chapel Wall",
        "Chapel Door",
        "The Dole Bed",
        "Warden's Long Border",
        "Chapel",
        "حديقة",
    ]
    report = listed(new_book, "bed,area\n" + "".join(f"{name},9m2\n" for name in names))
    assert [one["bed"] for one in report["beds"]] == [
        "chapel-wall", "chapel-door", "dole", "warden", "chapel", "حديقة",
    ]  # fmt: skip
    assert [one["name"] for one in report["beds"]] == names


def test_one_guess_is_one(new_book: Path) -> None:
    text = "name,area,soil,place,walk,depth\nPatch,18m2,loam,open,20m,35cm\n"
    report = setup.bed_list(new_book, Pasted("beds.csv", text.encode()), now=NOW)
    assert report["say"][-1] == "1 thing in them is my guess; soakbook bed lists them."


def test_faults_are_said_at_once_and_nothing_is_written(new_book: Path) -> None:
    setup.bed(new_book, "dole", now=NOW, area="22m2")
    before = pages(new_book)
    with pytest.raises(InputError) as caught:
        listed(
            new_book, "bed,area,soil\ndole,22m2,clay\nbank,18,loam\nyard,9m2,mud\nx,9m2,\nX,8m2,\n"
        )
    assert [
        line.strip().partition(" cannot")[0] for line in str(caught.value).splitlines()[1:]
    ] == [
        "line 2: bed: 'dole'",
        "line 3: area: '18'",
        "line 4: soil: 'mud'",
        "line 6: bed: 'X'",
    ]
    assert pages(new_book) == before


def test_a_dry_run_writes_nothing(new_book: Path) -> None:
    report = listed(new_book, "bed,area\nyard,9m2\n", dry_run=True)
    assert (report["written"], pages(new_book).beds) == (False, ())
    assert report["guesses"] == 5
