"""The stream's picture: both sides add up, signed flows change sides, the table holds what was drawn."""

import xml.etree.ElementTree as ET

import pytest

from soakbook.account.pictures.channel import Flow
from soakbook.account.pictures.stream import litres_words, stream, two_sides
from soakbook.errors import LedgerError

CAME = {"held at the start": 0.0, "rain": 25_410.7, "given": 30_980.0, "squared up": -612.5}
WENT = {"drunk": 40_000.0, "drained": 13_000.0, "gone with plants": -55.0, "held at the end": 2_833.2}  # fmt: skip


def test_the_table_holds_the_flows_and_both_ways_add_up() -> None:
    table = stream(CAME, WENT).table
    rows = list(table[["way", "flow", "litres"]].itertuples(index=False, name=None))
    assert rows == [
        ("in", "rain", 25_410.7),
        ("in", "given", 30_980.0),
        ("in", "gone with plants", 55.0),
        ("out", "drunk", 40_000.0),
        ("out", "drained", 13_000.0),
        ("out", "squared up", 612.5),
        ("out", "held at the end", 2_833.2),
    ]
    sums = table.groupby("way")[["litres", "share"]].sum()
    assert sums.loc["in", "litres"] == pytest.approx(sums.loc["out", "litres"], abs=1e-6)
    assert sums["share"].tolist() == pytest.approx([1.0, 1.0])


def test_it_refuses_sides_that_do_not_add_up() -> None:
    stream({"rain": 1e6 + 0.5e-6}, {"drunk": 1e6})
    for off in (2e-6, -2e-6, float("nan")):
        with pytest.raises(LedgerError, match="not accounted for"):
            stream({"rain": 10.0 + off}, {"drunk": 4.0, "held at the end": 6.0})


def test_signed_flows_change_sides_and_what_is_held_stays_last() -> None:
    comes, goes = two_sides({"given": 5.0, "squared": -1.0}, {"drunk": 0.0, "held": 4.0})
    assert comes == [Flow("given", 5.0)]
    assert goes == [Flow("squared", 1.0), Flow("held", 4.0)]
    _, goes = two_sides({"given": 5.0, "squared": -1.0}, {"drunk": 4.0, "held": 0.0})
    assert goes == [Flow("drunk", 4.0), Flow("squared", 1.0)]


def test_the_sentence_says_every_flow() -> None:
    alt = stream(CAME, WENT).alt
    assert alt == (
        "Litres' way as one stream of 56.45 m³. Into it came: rain 25.41 m³, given 30.98 m³, "
        "gone with plants 55 L. Out of it went: drunk 40.00 m³, drained 13.00 m³, squared up 0.61 m³, "
        "held at the end 2.83 m³."
    )


@pytest.mark.parametrize(
    ("came", "went"),
    [({}, {}), ({"rain": 0.0}, {"drunk": 0.0, "held at the end": 0.0})],
    ids=["nothing named", "nothing came"],
)
def test_no_water(came: dict[str, float], went: dict[str, float]) -> None:
    picture = stream(came, went)
    assert picture.alt == "Litres' way: no water came in, none went."
    assert picture.table.empty
    ET.fromstring(picture.svg)


def test_one_flow_and_very_long_names() -> None:
    long = "given where nothing is reckoned, because the bed was dug over and its plants were moved"
    for came, went in (({"rain": 3.0}, {"drunk": 3.0}), ({long: 9.0}, {long: 9.0})):
        ET.fromstring(stream(came, went).svg)


def test_litres_are_said_as_a_gardener_reads_them() -> None:
    assert litres_words(250.0, 900.0) == "250 L"
    assert litres_words(9_999.0, 9_999.0) == "9,999 L"
    assert litres_words(1_234.0, 20_000.0) == "1.23 m³"
    assert litres_words(0.25, 20_000.0) == "0.25 L"


def test_the_same_bytes_twice_under_a_name_of_its_own() -> None:
    assert stream(CAME, WENT).svg == stream(CAME, WENT).svg
    other = stream(CAME, WENT, "stream-dole", "Litres' way in the Dole Bed")
    assert other.name == "stream-dole"
    assert other.title == "Litres' way in the Dole Bed"
    assert b'id="stream-dole-title"' in other.svg
