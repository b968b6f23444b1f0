"""A folder by a stranger: what would come in and break a round, a log or a later export is refused at the door."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from soakbook.errors import InputError
from soakbook.services.exporting import export
from soakbook.services.folder import bringing_weather
from soakbook.services.importing import bring_back
from soakbook.store.book import open_book
from soakbook.store.garden_rows import keep_location

LOGGED_AREA = r"\"area_m2\": 18.0"
"""Of a bed in the log, as TOML writes the JSON of the book."""


@pytest.fixture
def folder(garden: Path, tmp_path: Path) -> Path:
    """The garden's book as a folder."""
    export(garden, tmp_path / "out")
    return tmp_path / "out"


def logged(new: str) -> Callable[[Path], None]:
    """Another area of the first bed in the log."""

    def edit(folder: Path) -> None:
        file = folder / "garden.toml"
        text = file.read_text(encoding="utf-8")
        assert LOGGED_AREA in text
        file.write_text(text.replace(LOGGED_AREA, new, 1), encoding="utf-8")

    return edit


def log_of(pattern: str, new: str) -> Callable[[Path], None]:
    def edit(folder: Path) -> None:
        file = folder / "garden.toml"
        text, count = re.subn(pattern, new, file.read_text(encoding="utf-8"), count=1, flags=re.M)
        assert count
        file.write_text(text, encoding="utf-8")

    return edit


def weather(old: str, new: str) -> Callable[[Path], None]:
    def edit(folder: Path) -> None:
        file = folder / "weather.csv"
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), encoding="utf-8", newline="")

    return edit


def circle(folder: Path) -> None:
    """The first two plantings stand in each other's place."""
    file = folder / "garden.toml"
    head, first, second, *more = file.read_text(encoding="utf-8").split("[[planting]]\n")
    one, other = (re.search('uid = "(.*)"', part)[1] for part in (first, second))  # type: ignore[index]
    parts = [head, f'replaces = "{other}"\n{first}', f'replaces = "{one}"\n{second}', *more]
    file.write_text("[[planting]]\n".join(parts), encoding="utf-8")


def parted(folder: Path) -> None:
    """The first two beds are parts of each other."""
    file = folder / "garden.toml"
    head, first, second, *more = file.read_text(encoding="utf-8").split("[[bed]]\n")
    one, other = (re.search('uid = "(.*)"', part)[1] for part in (first, second))  # type: ignore[index]
    since = "parted_on = 2031-04-01\nparted_from = "
    parts = [head, f'{since}"{other}"\n{first}', f'{since}"{one}"\n{second}', *more]
    file.write_text("[[bed]]\n".join(parts), encoding="utf-8")


SPOILED = {
    "a log of nothing known": (log_of(r'^after = .*$', 'after = "{}"'), r"change 1, after: '{}'"),
    "a log of another's uid": (
        log_of(r'^(after = .*?uid\\": \\")', r"\1x"), "a garden as the book wrote them, of that uid"
    ),
    "a log with a field more": (logged(LOGGED_AREA + r', \"stove\": 1'), "a bed as the book wrote them, of that uid"),
    "a log without an end": (logged(r'\"area_m2\": 1e400'), "after: .* a record as JSON"),
    "a log out of bounds": (logged(r'\"area_m2\": -3'), r"change \d+, after, area: -3 cannot"),
    "a log of text for a number": (logged(r'\"area_m2\": \"18\"'), "a bed as the book wrote them, of that uid"),
    "a circle of partings": (parted, "bed 1, parted_from: .*come from this one"),
    "a circle of replacements": (circle, "planting 1, replaces: .*come from this one"),
    "an hour with a zone": (
        log_of("^round_hour = .*$", 'round_hour = "07:00:00+02:00"'), "round hour: '07:00:00.02:00'"
    ),
    "a night of a hundred": (weather(",tmin_c,1.0", ",tmin_c,-100"), "value: -100 .*tmin_c from -60"),
    "rain below nothing": (weather(",tmin_c,1.0", ",rain_mm,-1"), "value: -1 .*rain_mm from 0"),
    "a flood": (weather(",tmin_c,1.0", ",rain_mm,1e8"), "value: 1e.*rain_mm from 0 to 10000"),
}  # fmt: skip


@pytest.mark.parametrize("name", SPOILED)
def test_it_is_one_sentence_and_no_book(name: str, folder: Path, tmp_path: Path) -> None:
    spoil, sentence = SPOILED[name]
    spoil(folder)
    with pytest.raises(InputError, match=sentence):
        bring_back(tmp_path / "again.book", folder, new=True)
    assert not (tmp_path / "again.book").exists()


def test_a_file_that_is_changed_while_it_is_read_is_refused(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Arrivals are read first; then somebody adds a row of another one."""

    def meanwhile(there: Path) -> None:
        row = "99,late,measured,,,2031-05-01T08:00:00+00:00,2031-05-01,rain_mm,1.0\r\n"
        with (there / "weather.csv").open("a", encoding="utf-8", newline="") as file:
            file.write(row)

    monkeypatch.setattr(bringing_weather, "_check_issues", meanwhile)
    with pytest.raises(InputError, match=r"arrival: '99'.*changed while it was read"):
        bring_back(tmp_path / "again.book", folder, new=True)


def test_a_folder_that_cannot_be_listed_is_refused(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(_: Path) -> None:
        raise PermissionError(13, "Permission denied", str(folder))

    monkeypatch.setattr(Path, "iterdir", refused)
    with pytest.raises(InputError, match=r"folder: .*Permission denied"):
        bring_back(tmp_path / "again.book", folder, new=True)


def test_from_where_weather_is_read_again_is_said(garden: Path, tmp_path: Path) -> None:
    with open_book(garden) as book:
        keep_location(book, "the shed", "http://gate.example/shed.csv")
    export(garden, tmp_path / "folder")
    answer = bring_back(tmp_path / "other.book", tmp_path / "folder", new=True)
    said = "\n".join(answer["say"])
    assert (
        "soakbook weather reads again from now on: the shed, from http://gate.example/shed.csv"
        in said
    )
    again = bring_back(tmp_path / "other.book", tmp_path / "folder")
    assert "reads again" not in "\n".join(again["say"])
