"""Set-up day: the specimen garden told in one conversation, twenty minutes, no instruments, and its first round."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from soakbook.cli.main import main
from tests.cli.talking import Talk, Talked, talk
from tests.services.looking import NOW, pages_of
from tests.services.weather_service import FORECAST, SECOND, WeatherService, weather_service
from tests.stories.test_readme import block

__all__ = ["talk"]

GARDEN = ["The Corrody, Marl Hatherby", "52.3 N 0.4 W"]
HABITS = ["", "mon-sat 2h", "Ann"]
TAPS = ["A 43", "", "B 55", "25", ""]
BEDS = [
    "Chapel Wall, 18 m2, sandy loam, south wall foot, A", "",
    "Warden's Long Border, 46 m2, clay loam, open, A",
    "Dole Bed, 22 m2, ?, open, A", "clay", "",
    "Bakehouse Bank, 30 m2, sandy loam, windy bank, B", "",
    "Infirmary Shade, 26 m2, loam, under a tree, B", "no", "0.3", "",
    "Well Court, 16 m2, loam, court, B", "",
    "Orchard Ride, 60 m2, sandy loam, open, none",
    "Schoolroom, 34 m2, loamy sand, open, B",
    "",
]  # fmt: skip
PLANTINGS: list[str | list[str]] = [
    "chapel, climbing rose, 6, 7.5 L pot, 20 mar", "",
    "dole, shrub rose, 14, dug ball 45 cm, 3 apr", "",
    "ride, hornbeam whip, 120, bare root, 22 jan", "",
    [
        "chapel\tclematis\t5\t3 L pot\t22 mar",
        "warden\tbush rose\t14\t5 L pot\t8 apr",
        "warden\thydrangea\t6\tC10\t8 apr",
        "warden\tperennial\t60\t2 L pot\t9 apr",
        "bank\tshrub\t20\t4 L pot\t28 mar",
        "infirm\thydrangea\t28\t3 L pot\t15 apr",
        "well\tyew\t8\tdug ball 45 cm\t12 feb",
        "school\tperennial\t140\t2 L pot\t6 may",
    ], "", "", "", "", "", "", "", "",
    "",
]  # fmt: skip


@pytest.fixture
def service(monkeypatch: pytest.MonkeyPatch) -> Iterator[WeatherService]:
    """Both weather services, made, as the environment names them."""
    with weather_service() as found:
        monkeypatch.delenv("SOAKBOOK_OFFLINE")
        for name, address in found.environment().items():
            monkeypatch.setenv(name, address)
        yield found


def set_up(talk: Talk, path: Path, *height_and_clock: str) -> Talked:
    answers = [*GARDEN, *height_and_clock, *HABITS, *TAPS, *BEDS, *PLANTINGS]
    talked = talk.talk(["book", "new", "--book", str(path)], answers, NOW)
    assert (talked.status, talked.unasked) == (0, ()), talked.screen
    return talked


def test_a_garden_in_one_conversation_ends_in_its_first_round(
    service: WeatherService, talk: Talk, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "corrody.book"
    screen = set_up(talk, path, "no", "", "Europe/London").screen
    assert "Height 62 m, clock GMT. Right? [yes]: no" in screen
    assert "soakbook: " not in screen
    found = pages_of(path)
    assert (len(found.taps), len(found.beds), len(found.plantings)) == (2, 8, 11)
    assert sum(one.count for one in found.plantings) == 421
    assert [one.key for one in found.beds] == [
        "chapel", "warden", "dole", "bakehouse", "infirmary", "well", "orchard", "schoolroom",
    ]  # fmt: skip
    before, _, after = screen.partition("THE ROUND")
    assert "Done: 8 beds, 421 plants." in before
    assert "Weather data by Open-Meteo.com" in " ".join(after.split())
    for name in ("CHAPEL WALL", "SCHOOLROOM"):
        assert name in after
    assert "Put a finger in two balls" in " ".join(after.split())
    feels = [line.split()[2] for line in after.splitlines() if line.startswith("  soakbook feel")]
    assert len(feels) == 2
    assert "orchard" not in feels
    main(["round", "--book", str(path)])
    assert capsys.readouterr().out.strip() in screen


def test_the_last_line_is_one_that_works(
    service: WeatherService, talk: Talk, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "corrody.book"
    screen = set_up(talk, path, "no", "", "Europe/London").screen
    for line in screen.splitlines()[-2:]:
        words = line.split()
        assert words[0] == "soakbook"
        assert main([*words[1:], "--book", str(path)]) == 0
    assert "ball dry" in capsys.readouterr().out.casefold()


def test_readme_shows_it_as_it_is(service: WeatherService, talk: Talk, tmp_path: Path) -> None:
    """README's pieces, parted by dots, stand so on the screen and in that order."""
    screen = set_up(talk, tmp_path / "corrody.book", "no", "", "Europe/London").screen
    first, *pieces = block("conversation").split("...\n")
    typed, _, begins = first.partition("\n")
    assert typed == "$ soakbook book new"
    assert screen.startswith(begins)
    for piece in pieces:
        assert piece in screen
        screen = screen.partition(piece)[2]


def test_when_no_service_answers_it_says_so_and_knows_nothing_yet(
    service: WeatherService, talk: Talk, tmp_path: Path
) -> None:
    service.fail(FORECAST, SECOND)
    path = tmp_path / "corrody.book"
    screen = set_up(talk, path, "62", "Europe/London").screen
    before, _, after = screen.partition("THE ROUND")
    assert "Open-Meteo" in before.partition("Done: ")[2]
    assert "Nothing can be said of any bed yet." in after
    assert "The book has no weather before this morning" in after
    assert "soakbook feel chapel --ball dry --bed moist" in after
    assert len(service.asked(FORECAST)) == 2
