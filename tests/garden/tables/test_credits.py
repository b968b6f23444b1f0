"""Credits: what the providers' own files say that their services ask for, word by word."""

from soakbook.garden.tables.credits import CREDITS, credits_of
from soakbook.weather import met_norway
from soakbook.weather.open_meteo import asking


def test_every_provider_has_its_line_with_link_and_licence() -> None:
    assert set(CREDITS) == {asking.SERVICE, met_norway.NAME}
    first, second = CREDITS[asking.SERVICE], CREDITS[met_norway.NAME]
    assert all(
        part in first for part in (asking.ATTRIBUTION, asking.ATTRIBUTION_URL, asking.LICENCE)
    )
    assert all(part in second for part in (met_norway.CREDIT, met_norway.CREDIT_URL))
    assert all(licence in second for licence in met_norway.LICENCES)


def test_only_those_whose_weather_is_there() -> None:
    assert credits_of(["shed.csv", "MET Norway"]) == (CREDITS["MET Norway"],)
    assert credits_of(["shed.csv"]) == ()
