"""Credits: the words, the link and the licence that each service asks for."""

from soakbook.garden.tables.credits import CREDITS, credits_of
from soakbook.weather import met_norway
from soakbook.weather.open_meteo import asking


def test_every_provider_has_its_line_with_link_and_licence() -> None:
    assert set(CREDITS) == {asking.SERVICE, met_norway.NAME}
    first, second = CREDITS[asking.SERVICE], CREDITS[met_norway.NAME]
    assert first == "Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0."
    assert second == "Data from MET Norway (https://www.met.no/en), NLOD 2.0 and CC BY 4.0."


def test_only_those_whose_weather_is_there() -> None:
    assert credits_of(["shed.csv", "MET Norway"]) == (CREDITS["MET Norway"],)
    assert credits_of(["shed.csv"]) == ()
