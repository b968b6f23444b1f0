"""Water by source and month, against the specimen's own text read by pandas alone."""

import math
from datetime import date

import numpy as np
import pandas as pd
import pytest

from soakbook.account.columns import SOURCES
from soakbook.account.prices import money_by_currency
from soakbook.account.sources import sources_frame
from soakbook.account.visits import visits_frame
from soakbook.garden.pages import Pages
from soakbook.garden.records import Rate
from soakbook.services.books import SPECIMEN
from tests.account.books import garden, on, specimen
from tests.reckoning.gardens import soak

YEAR = (date(2031, 1, 1), date(2031, 12, 31))
SOURCE = SPECIMEN.parent / "source"
DEARER = Rate("dearer", date(2031, 6, 11), "water", 5.35)


def changing() -> Pages:
    """The specimen's book with a price that changes on 11 June."""
    return specimen()._replace(rates=(*specimen().rates, DEARER))


def entered() -> pd.DataFrame:
    """The soaks of the season's text: day, tap, flow of that day, price of that day."""
    every = pd.read_csv(SOURCE / "entries.csv")
    soaks = every[every["what"] == "soak"].copy()
    soaks["day"] = pd.to_datetime(soaks["happened"].str[:10])
    soaks["litres"] = soaks["number"].astype(float)
    ride = soaks["bed"] == "ride"
    soaks["source"] = np.where(ride, "barrow", "mains")
    taps = pd.read_csv(SOURCE / "beds.csv").set_index("key")["tap"]
    soaks["tap"] = soaks["bed"].map(taps).where(~ride, "barrow")
    soaks["price"] = np.where(soaks["day"] < "2031-06-11", 4.00, 5.35)
    return soaks


def test_the_columns_are_those_that_are_documented() -> None:
    for book in (garden([]), garden([soak(on(3), 24, "wall")])):
        assert list(sources_frame(visits_frame(book, *YEAR))) == list(SOURCES)


def test_litres_and_cost_of_every_month_are_those_of_plain_pandas() -> None:
    """Tolerance: sums in another order."""
    soaks = entered()
    soaks["month"] = soaks["day"].dt.to_period("M").dt.to_timestamp()
    soaks["cost"] = (soaks["litres"] / 1000 * soaks["price"]).where(soaks["source"] == "mains", 0.0)
    expected = soaks.groupby(["month", "source"])[["litres", "cost"]].sum().reset_index()
    found = sources_frame(visits_frame(changing(), *YEAR))
    assert list(found["month"]) == list(expected["month"])
    assert list(found["source"]) == list(expected["source"])
    assert list(found["litres"]) == pytest.approx(list(expected["litres"]), rel=1e-12)
    assert list(found["water_cost"]) == pytest.approx(list(expected["cost"]), rel=1e-12)
    assert found["litres"].sum() > 30_000
    june = found[(found["month"] == "2031-06-01") & (found["source"] == "mains")].iloc[0]
    assert math.isnan(june["water_price_per_m3"])


def test_minutes_of_the_tap_are_those_of_plain_pandas() -> None:
    """Litres of a bed, day and person over the flow of the last hose test by then, up to the next half minute."""
    flows = pd.read_csv(SOURCE / "flows.csv", parse_dates=["tested_on"])
    soaks = entered()
    visits = (
        soaks.groupby(["day", "bed", "by", "source", "tap"], dropna=False)["litres"]
        .sum()
        .reset_index()
    )
    with_flow = pd.merge_asof(
        visits.sort_values("day"),
        flows.sort_values("tested_on"),
        left_on="day",
        right_on="tested_on",
        by="tap",
    )
    assert not with_flow["flow_l_per_min"].isna().any()
    with_flow["minutes"] = np.ceil(2 * with_flow["litres"] / with_flow["flow_l_per_min"] - 1e-9) / 2
    by_can = soaks[soaks["method"] == "can"].groupby(["day", "bed", "by"]).size()
    by_hose = soaks[soaks["method"] != "can"].groupby(["day", "bed", "by"]).size()
    assert by_can.index.intersection(by_hose.index).empty  # else they would be rounded apart
    expected = with_flow.groupby("source")["minutes"].sum()
    found = sources_frame(visits_frame(specimen(), *YEAR)).groupby("source")["minutes"].sum()
    assert found.to_dict() == expected.to_dict()


def test_water_that_had_no_price_yet_is_said_and_not_taken_for_free() -> None:
    book = garden(
        [soak(on(5, month=5), 300, "wall", uid="a"), soak(on(12, month=5), 500, "wall", uid="b")]
    )
    (row,) = sources_frame(visits_frame(book, *YEAR)).to_dict("records")
    assert (row["litres"], row["unpriced_l"], row["water_cost"]) == (800.0, 300.0, 2.0)
    assert row["currency"] == "GBP"
    (bare,) = sources_frame(visits_frame(book._replace(rates=()), *YEAR)).to_dict("records")
    assert math.isnan(bare["water_cost"])
    assert bare["currency"] == ""


def test_currencies_of_one_month_stand_in_rows_of_their_own() -> None:
    euro = Rate("e", date(2031, 6, 15), "water", 3.0, "EUR")
    rates = (Rate("g", date(2031, 5, 1), "water", 4.0), euro)
    book = garden(
        [soak(on(3), 1000, "wall", uid="a"), soak(on(20), 2000, "wall", uid="b")], rates=rates
    )
    visits = visits_frame(book, *YEAR)
    found = sources_frame(visits).to_dict("records")
    assert [(one["currency"], one["water_cost"]) for one in found] == [("EUR", 6.0), ("GBP", 4.0)]
    assert money_by_currency(visits) == {"EUR": (6.0, 0.0), "GBP": (4.0, 0.0)}


def test_a_southern_season_runs_over_the_new_year() -> None:
    book = garden(
        [
            soak(on(30, month=12), 10, "wall", uid="a"),
            soak(date(2032, 1, 2), 20, "wall", uid="b"),
        ]
    )
    found = sources_frame(visits_frame(book, date(2031, 7, 1), date(2032, 6, 30)))
    assert list(found["month"]) == [pd.Timestamp(2031, 12, 1), pd.Timestamp(2032, 1, 1)]
