"""What the book has, listed: beds with their guesses, weather with its gaps."""

import pytest

from soakbook.cli.lists_page import only_bed, write_beds, write_weather
from soakbook.cli.paper import Page
from soakbook.errors import InputError
from tests.cli.reports import BEDS
from tests.cli.weather_known import WEATHER
from tests.cli.words import amiss

BEDS_PAGE = """\
The Corrody, Marl Hatherby

CHAPEL WALL (chapel)                                                       18 m²
  sandy loam, south wall foot, tap A
    Guesses, put right with soakbook bed chapel
      share of the rain: 0.45                                  --rain-share 0.45
  6 climbing roses, planted 20 Mar 2031, 1 of them lost
    Guesses, put right with soakbook plant chapel "climbing roses" 6
      ball: 25 cm across                                              --pot 7.5l
      grown: 90 cm across in 12 weeks                         --leaves-full 90cm

RIDE (ride)                                                              60.5 m²
  unknown, open
  a part of chapel until 10 May 2031
  at rest from 1 Oct 2031"""

WEATHER_PAGE = """\
The Corrody, Marl Hatherby: weather
Open-Meteo: 7 days analysed, to 14 May and forecast to 30 May in 51 futures.
1 Feb 2031 to 14 May 2031, 103 days.

How dry, and what is likely
  No useful rain for 69 days, since 5 March.
  To Wed 21 no useful rain likely; warm from Sun.

Forecast
  Open-Meteo, issued 15 May 05:12: to 30 May, in 51 futures.

From where
  shed, measured: rain, lowest temperature, highest temperature; 1 Feb 2031 to
      12 May 2031, 3 days ago
  Open-Meteo, analysed: rain; 13 May 2031 to 14 May 2031, yesterday

As forecast, nothing better came
  reference evaporation: 14 May 2031, MET Norway, issued 13 May 06:13

How read
  rain, wind: made of rows of 1 h; 101 days, 1 Feb 2031 to 12 May 2031

Filled, and how
  temperature: mean of the days either side; 2 days, 5 Mar 2031 to 6 Mar 2031

Not known
  rain: 1 day, 5 Mar 2031

No rain value for 5 March: not the same as dry.

Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0."""


def test_beds_with_every_guess_and_the_command_that_settles_it() -> None:
    page = Page(80)
    write_beds(page, BEDS)
    assert str(page) == BEDS_PAGE
    assert amiss(str(page)) == []


def test_one_lost_of_one_and_a_name_in_the_singular() -> None:
    bed = BEDS["beds"][0]
    (of,) = bed["plantings"]
    plantings = [
        {**of, "planting": "climbing rose"},
        {**of, "planting": "The Maple", "count": 1, "living": 0},
        {**of, "planting": "fern", "living": 2, "elsewhere": 3},
    ]
    page = Page(80)
    write_beds(page, {**BEDS, "beds": [{**bed, "plantings": plantings, "guesses": []}]})
    assert "  6 climbing roses, planted 20 Mar 2031, 1 of them lost" in str(page).splitlines()
    assert "  1 The Maple, planted 20 Mar 2031, lost" in str(page).splitlines()
    assert "planted 20 Mar 2031, 1 of them lost, 3 of them in another bed now" in str(page)


def test_a_book_without_beds_says_how_to_add_one() -> None:
    page = Page(80)
    write_beds(page, {**BEDS, "beds": []})
    assert str(page).endswith("No beds yet: `soakbook bed -h` says how.")


@pytest.mark.parametrize("word", ["chapel", "Chapel Wall", "wall"])
def test_one_bed_is_found_by_its_key_or_its_name(word: str) -> None:
    assert [bed["bed"] for bed in only_bed(BEDS, word)["beds"]] == ["chapel"]
    assert len(BEDS["beds"]) == 2


def test_an_unknown_bed_is_refused_with_those_there_are() -> None:
    with pytest.raises(InputError, match=r"did you mean chapel.* known: chapel, ride; a new bed"):
        only_bed(BEDS, "chappel")
    with pytest.raises(InputError, match="known: none yet; a new bed needs --area"):
        only_bed({**BEDS, "beds": []}, "chapel")


def test_weather_says_from_where_and_how_gaps_were_filled() -> None:
    page = Page(80)
    write_weather(page, WEATHER)
    assert str(page) == WEATHER_PAGE
    assert amiss(str(page)) == []


def test_weather_without_gaps_leaves_their_headings_out() -> None:
    page = Page(80)
    write_weather(page, {**WEATHER, "filled": [], "missing": [], "findings": [], "credits": []})
    assert str(page) == WEATHER_PAGE.partition("\n\nFilled")[0]


def test_a_book_without_weather_says_how_to_get_some() -> None:
    page = Page(80)
    write_weather(
        page,
        {**WEATHER, "first": None, "last": None, "days": 0, "forecast": None, "as_forecast": []},
    )
    assert str(page).splitlines()[2].startswith("None yet: `soakbook weather -h`")
