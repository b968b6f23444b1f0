"""A list of plantings goes in whole: columns by their names, faults all at once, nothing twice."""

import json
from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.garden.pages import Pages
from soakbook.services import setup
from soakbook.services.lists.sheet import Pasted
from soakbook.services.told import Report
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
from tests.cli.test_schemas import validate
from tests.services.looking import NOW

PLAN = """\
Border,Plant,How many,Pot (L),Planted on
Chapel,climbing rose,6,7.5,2031-03-20
chapel,clematis,5,3,22 mar
Dole,perennial,60,2,6 may
"""


@pytest.fixture
def two_beds(new_book: Path) -> Path:
    """A book with two beds and nothing in them."""
    setup.bed(new_book, "chapel", now=NOW, area="18m2", soil="sandy loam")
    setup.bed(new_book, "dole", now=NOW, area="22m2", soil="clay")
    return new_book


def listed(path: Path, text: str | bytes, name: str = "plan.csv", **how: Any) -> Report:
    content = text if isinstance(text, bytes) else text.encode()
    return setup.plant_list(path, Pasted(name, content, **how), now=NOW)


def pages(path: Path) -> Pages:
    with open_book(path, read_only=True) as book:
        return read_pages(book)


def refused(path: Path, text: str | bytes, **how: Any) -> str:
    """Why a list is refused; the book is as it was."""
    before = pages(path)
    with pytest.raises(InputError) as caught:
        listed(path, text, **how)
    assert pages(path) == before
    return str(caught.value)


def test_a_list_equals_the_lines_of_it_typed(two_beds: Path, tmp_path: Path) -> None:
    typed = tmp_path / "typed.book"
    typed.write_bytes(two_beds.read_bytes())
    report = listed(two_beds, PLAN)
    setup.plant(typed, "chapel", "climbing rose", "6", now=NOW, pot="7.5l", on="20mar")
    setup.plant(typed, "chapel", "clematis", "5", now=NOW, pot="3l", on="22mar")
    setup.plant(typed, "dole", "perennial", "60", now=NOW, pot="2l", on="6may")
    found, expected = (
        [one._replace(uid="") for one in pages(book).plantings] for book in (two_beds, typed)
    )
    assert found == expected
    assert (report["plants"], report["written"], report["guesses"]) == (71, True, 9)
    assert report["say"][0] == "3 plantings, 71 plants, in 2 beds, from plan.csv."
    assert "legionella" in report["say"][1]
    validate(report, "list")


def test_days_of_a_spreadsheet_are_read_by_the_whole_column(two_beds: Path) -> None:
    listed(two_beds, "bed,plant,qty,when\nchapel,rose,2,05/04/2031\nchapel,fern,3,29/03/2031")
    days = {one.name: one.planted_on.isoformat() for one in pages(two_beds).plantings}
    assert days == {"rose": "2031-04-05", "fern": "2031-03-29"}


def test_days_that_read_two_ways_are_asked_for(two_beds: Path) -> None:
    text = "bed,plant,qty,when\nchapel,rose,2,3/4/2031\nchapel,fern,3,1 mar"
    assert refused(two_beds, text).endswith(
        "line 2: on: '3/4/2031' cannot be right; said: --dates dmy if it is 2031-04-03, --dates mdy if it is 2031-03-04"
    )
    assert "on: '29/13/2031'" in refused(two_beds, text.replace("3/4", "29/13"))
    listed(two_beds, text, dates="mdy")
    assert {one.planted_on.isoformat() for one in pages(two_beds).plantings} == {
        "2031-03-04",
        "2031-03-01",
    }


def test_words_of_nurseries_may_stand_where_a_pot_is_looked_for(two_beds: Path) -> None:
    listed(
        two_beds,
        "bed,plant,qty,container\nchapel,rose,2,C3\nchapel,fern,3,P9\nchapel,whip,4,bare root",
    )
    rose, fern, whip = pages(two_beds).plantings
    assert (rose.ball_volume_l, fern.ball_diameter_m, whip.origin) == (3, 0.09, "bare")
    assert "write 7.5l, 9cm or 2gal" in refused(two_beds, "bed,plant,qty,pot\nchapel,sage,2,big")


def test_one_that_stands_there_already_is_one(two_beds: Path) -> None:
    one = "bed,plant,qty,pot,on\nchapel,yew,1,5l,3 apr"
    listed(two_beds, one)
    assert "the 1 yew, planted 3 April, stands in chapel already" in refused(two_beds, one)


@pytest.mark.parametrize(
    "text",
    [
        "bed\tWHAT\tqty\tsize\tplanting date\ndole\tshrub rose\t14\tdug ball 45 cm\t3 apr",
        "Bed name;Species;No.;Ball [cm];When\nDole;shrub rose;14;45;2031-04-03\n\n",
        "location,Cultivar,Number of plants,root_ball,date\r\ndole,shrub rose,14,45cm,3apr\r\n",
        "where,name,#,stock,on\ndole,shrub rose,14,RB 45cm,3 April 2031",
        '\ufeffbed,plant,count,size,on\n"dole","shrub rose","14","45 cm rootball","3 apr"\n',
    ],
)
def test_columns_go_by_any_usual_name(text: str, two_beds: Path) -> None:
    listed(two_beds, text)
    (one,) = pages(two_beds).plantings
    assert (one.name, one.count, one.origin, one.ball_diameter_m) == ("shrub rose", 14, "dug", 0.45)
    assert one.planted_on.isoformat() == "2031-04-03"


def test_columns_of_other_names_are_said_or_left_out(two_beds: Path) -> None:
    text = "Gruppe,plant,count,pot,Preis\ndole,rose,3,5l,4.50"
    why = refused(two_beds, text)
    assert "columns of plan.csv: \"'Gruppe', 'Preis'\" cannot be right" in why
    assert "--column none=HEADER" in why
    listed(two_beds, text, columns=("bed=Gruppe", "none=preis"))
    assert [one.name for one in pages(two_beds).plantings] == ["rose"]


@pytest.mark.parametrize(
    ("columns", "why"),
    [
        (("bed=Beet",), "column: 'Beet' cannot be right; a column of the list: bed, plant"),
        (("Beet",), "column: 'Beet' cannot be right; bed=Border, with one of"),
        (("beet=bed",), "column: 'beet=bed' cannot be right"),
        (("kind=bed", "bed=plant"), "bed: 'rose' cannot be right"),
    ],
)
def test_a_column_that_is_said_must_be_there(
    columns: tuple[str, ...], why: str, two_beds: Path
) -> None:
    assert why in refused(two_beds, "bed,plant,count,pot\ndole,rose,3,5l", columns=columns)


def test_two_columns_for_one_thing_are_refused(two_beds: Path) -> None:
    why = refused(two_beds, "bed,species,variety,count\ndole,rose,Peace,3")
    assert "one column for kind; --column none='variety' leaves one out" in why


def test_what_every_line_needs_is_asked_for(two_beds: Path) -> None:
    why = refused(two_beds, "bed,count\ndole,3")
    assert "a column each for bed, kind, count; there is none for kind" in why


def test_units_are_never_guessed(two_beds: Path) -> None:
    assert "line 2: pot: '7.5' cannot be right; say of what" in refused(
        two_beds, "bed,plant,count,pot\ndole,rose,3,7.5"
    )
    assert "line 2: size: '45 cm' cannot be right; how they came" in refused(
        two_beds, "bed,plant,count,size\ndole,rose,3,45 cm"
    )
    listed(two_beds, "bed,plant,count,pot litres\ndole,rose,3,7.5\ndole,clematis,3,9cm")
    assert [one.ball_volume_l for one in pages(two_beds).plantings] == [7.5, 0.5]


def test_faults_are_said_all_at_once_by_line_and_column(two_beds: Path) -> None:
    why = refused(
        two_beds,
        "bed,plant,count,pot,on\n"
        "nowhere,rose,3,5l,1apr\n"
        "dole,rose,=1+2,5l,1apr\n"
        "dole,zorble,3,5l,1apr\n"
        "dole,rose,3.5,5l,1apr\n"
        "dole,rose,3,5l,1/4/2031\n"
        "nowhere,clematis,3,5l,1apr\n"
        "dole,rose,3\n",
    )
    assert [line.strip().partition(" cannot")[0] for line in why.splitlines()[1:]] == [
        "lines 2 and 7: bed: 'nowhere'",
        "line 3: count: '=1+2'",
        "line 4: kind: 'zorble'",
        "line 5: count: '3.5'",
        "line 6: on: '1/4/2031'",
        "line 8: row: 'dole | rose | 3'",
    ]
    assert "6 faults, so nothing of it is entered" in why


def test_at_most_twenty_faults_are_listed(two_beds: Path) -> None:
    why = refused(two_beds, "bed,plant,count\n" + "".join(f"dole,rose,x{n}\n" for n in range(30)))
    assert len(why.splitlines()) == 22
    assert why.endswith("and 10 more")


def test_a_list_brought_in_already_is_noticed(two_beds: Path) -> None:
    listed(two_beds, PLAN)
    why = refused(two_beds, PLAN)
    assert "3 faults" in why
    assert (
        "line 2: planting: 'climbing rose' cannot be right; the 6 climbing roses, planted 20 March,"
        in why
    )
    assert "--again plants them once more" in why
    listed(two_beds, PLAN, again=True)
    assert [one.name for one in pages(two_beds).plantings if one.count == 6] == [
        "climbing rose",
        "climbing rose of 20 March",
    ]


def test_the_same_kind_on_other_days_is_named_by_its_day(two_beds: Path) -> None:
    text = (
        "bed,plant,count,size,on\n"
        "dole,perennial,9,P9,1 may\ndole,perennials,9,P9,2 may\ndole,perennial,8,P9,2 may\n"
    )
    listed(two_beds, text)
    assert [one.name for one in pages(two_beds).plantings] == [
        "perennial",
        "perennials of 2 May",
        "perennial of 2 May, 2",
    ]
    why = refused(two_beds, text)
    assert why.count("stand in dole already") == 3


def test_beds_are_made_where_the_list_has_area_and_soil(two_beds: Path) -> None:
    report = listed(
        two_beds,
        "bed,area (m2),soil,place,plant,count,pot\n"
        "Long Walk,40,clay,open,rose,3,5l\nLong Walk,,,,clematis,2,3l\ndole,22,clay,,rose,1,5l\n",
    )
    assert [(one["bed"], one["name"], one["line"]) for one in report["beds"]] == [
        ("long", "Long Walk", 2)
    ]
    made = pages(two_beds)
    assert [len(made.plantings_of(bed)) for bed in made.beds] == [0, 1, 2]
    validate(report, "list")


def test_a_bed_is_one_bed(two_beds: Path) -> None:
    why = refused(
        two_beds,
        "bed,area,soil,plant,count\ndole,23 m2,clay,rose,3\nnew,9m2,loam,rose,1\nnew,8m2,,rose,2\n",
    )
    assert "line 2: area: '23 m2' cannot be right; as the book or an earlier line has it" in why
    assert "line 4: area: '8m2' cannot be right" in why


def test_a_bed_spelled_in_two_ways_is_one_bed(two_beds: Path) -> None:
    listed(
        two_beds,
        "bed,kind,count,pot,area,soil\nLong Border,rose,3,4l,20m2,loam\nlong-border,clematis,2,3l,20m2,loam\n"
        "LONG_BORDER,tea rose,1,4l,20m2,loam\n",
    )
    (new,) = pages(two_beds).beds[2:]
    assert (new.name, new.key, len(pages(two_beds).plantings_of(new))) == ("Long Border", "long", 3)


def test_too_many_for_a_bed_is_said_once(two_beds: Path) -> None:
    text = "bed,plant,count,size\n" + "".join(f"dole,rose {n},900,C10\n" for n in range(9))
    why = refused(two_beds, text)
    assert "1 fault, so nothing" in why
    assert "fewer plants or a larger bed" in why


def test_a_dry_run_writes_nothing(two_beds: Path) -> None:
    before = pages(two_beds)
    report = listed(two_beds, PLAN, dry_run=True)
    assert pages(two_beds) == before
    assert report["written"] is False
    assert "Nothing is written: this is how the list is understood." in report["say"]
    assert report["plantings"][0]["say"] == (
        "chapel: 6 climbing roses, from 7.5 L pots, planted 20 March"
    )
    validate(report, "list")


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "it is empty"),
        (b" , ,\n\n", "it is empty"),
        (b"PK\x03\x04rest of a zip", "CSV"),
        (b"\xd0\xcf\x11\xe0 an old one", "CSV"),
        (b"bed,plant,count\ndole,ro\x00se,3", "CSV"),
        (b"bed plant count\ndole rose 3", "a comma, a semicolon or a tab"),
        (b"bed,plant,count\n", "a line for each below the column names"),
        (b'bed,plant,count\ndole,"rose,3', "quotes in pairs"),
        (b"bed,plant,count\n" + b"dole,rose,3\n" * 10_001, "at most 10,000 lines, not 10,001"),
        (b"bed,plant,count\n" + b"x" * 1_000_000, "at most 1 MB"),
    ],
)
def test_what_is_no_list_is_refused(content: bytes, why: str, two_beds: Path) -> None:
    assert why in refused(two_beds, content)


def test_a_spreadsheet_file_is_refused_by_its_name(two_beds: Path) -> None:
    assert "Save as or Export, CSV" in refused(two_beds, b"bed,plant", name="plan.xlsx")


def test_names_of_any_letters_are_taken(two_beds: Path) -> None:
    text = "bed,plant,count,name\ndole,rose,1,ورد أحمر\ndole,rose,1,🌹 by the door\ndole,rose,1,Édith\n"
    for encoding in ("utf-8", "utf-8-sig", "utf-16"):
        report = listed(two_beds, text.encode(encoding), dry_run=True)
        assert [one["planting"] for one in report["plantings"]] == [
            "ورد أحمر", "🌹 by the door", "Édith",
        ]  # fmt: skip
    json.dumps(report)
    assert "without control characters" in refused(
        two_beds, "bed,plant,count,name\ndole,rose,1,a\u202eb\n"
    )


def test_the_most_there_may_be(new_book: Path) -> None:
    setup.bed(new_book, "field", now=NOW, area="9000m2", soil="loam")
    rows = "".join(f"field,perennial,1,P9,{1 + n % 9} may\n" for n in range(10_000))
    assert listed(new_book, "bed,plant,count,size,on\n" + rows)["plants"] == 10_000


def test_bare_root_by_a_column_of_its_own(two_beds: Path) -> None:
    listed(two_beds, "bed,plant,count,bare root,pot\ndole,rose,3,x,\ndole,clematis,1,no,3l\n")
    assert [one.origin for one in pages(two_beds).plantings] == ["bare", "pot"]
    assert "bare: 'maybe' cannot be right" in refused(
        two_beds, "bed,plant,count,bare\ndole,hydrangea,3,maybe\n"
    )
