"""All pictures of the specimen garden's season, held against its account and the account's against theirs."""

import shutil
import struct
import sys
import xml.etree.ElementTree as ET
from datetime import date
from pathlib import Path

import pytest

from soakbook.account.litres_way import CAME, WENT
from soakbook.account.pictures.drawn import SHORT, pictures_of
from soakbook.account.pictures.looking import as_png
from soakbook.account.pictures.picture import Picture
from soakbook.account.pictures.stream import stream
from soakbook.account.reviewed import Account, account_of
from soakbook.errors import InputError
from soakbook.services.books import where


@pytest.fixture(scope="module")
def account(tmp_path_factory: pytest.TempPathFactory) -> Account:
    book = tmp_path_factory.mktemp("drawn") / "corrody.book"
    shutil.copyfile(where(None, specimen=True), book)
    return account_of(Path(book), 2031, date(2031, 10, 16))


@pytest.fixture(scope="module")
def pictures(account: Account) -> dict[str, Picture]:
    return {one.name: one for one in pictures_of(account)}


def test_every_bed_has_its_soil_and_the_garden_its_stream(
    account: Account, pictures: dict[str, Picture]
) -> None:
    assert list(pictures)[:3] == ["stream", "thirst", "tallies"]
    assert {f"strip-{bed}" for bed in account.beds["bed"]} <= set(pictures)
    for name, picture in pictures.items():
        root = ET.fromstring(picture.svg)
        assert root.findtext("{http://www.w3.org/2000/svg}title") == picture.title
        assert picture.alt.endswith(".")
        assert name == picture.name
        assert not picture.table.empty


def test_the_stream_is_the_way_of_the_account(
    account: Account, pictures: dict[str, Picture]
) -> None:
    way, table = account.way(), pictures["stream"].table
    assert set(SHORT) == {*CAME, *WENT}
    for side, flows in (("in", way.came), ("out", way.went)):
        shown = table[table["way"] == side]
        assert shown["litres"].sum() == pytest.approx(way.total_l, abs=1e-6)
        right = {SHORT[name]: litres for name, litres in flows.items() if litres > 0}
        assert dict(zip(shown["flow"], shown["litres"], strict=True)) == right


def test_weeks_and_given_water_are_those_of_the_beds(
    account: Account, pictures: dict[str, Picture]
) -> None:
    table = pictures["tallies"].table
    watered, left = (table.groupby("bed")[one].sum() for one in ("watered", "left"))
    for bed in account.beds.itertuples():
        assert [watered[bed.bed], left[bed.bed]] == [bed.visits, bed.left]
        strip = pictures[f"strip-{bed.bed}"].table
        assert strip["soak_l"].sum() == pytest.approx(bed.litres)
        assert strip["gone"].sum() == bed.lost
    given = pictures["thirst"].table["given_l"].sum()
    assert given == pytest.approx(account.beds["litres"].sum())


def test_every_feel_is_pinned_on_somewhere(account: Account, pictures: dict[str, Picture]) -> None:
    for store in ("ball", "bed"):
        pinned = sum(
            int((one.table[f"{store}_felt"] != "").sum())
            for name, one in pictures.items()
            if name.startswith("strip-")
        )
        felt = account.feels[account.feels["store"] == store]
        assert pinned == len(felt.drop_duplicates(["day", "planting_uid"]))


@pytest.mark.parametrize("width", [1200, 390])
def test_a_picture_can_be_looked_at(width: int) -> None:
    png = as_png(stream({"rain": 3.0}, {"drunk": 3.0}), width)
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    assert struct.unpack(">I", png[16:20])[0] == width


def test_looking_needs_a_pixel_and_typst(monkeypatch: pytest.MonkeyPatch) -> None:
    picture = stream({"rain": 3.0}, {"drunk": 3.0})
    with pytest.raises(InputError, match="width_px: 0 cannot be right"):
        as_png(picture, 0)
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(InputError) as refused:
        as_png(picture)
    assert str(refused.value) == (
        "typst, which turns pictures into pixels, is not installed: pip install 'soakbook[reports]'"
    )
