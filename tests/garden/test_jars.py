"""Jars beside the gauge: a bed's share of the rain, and how sure it is."""

from datetime import UTC, datetime
from math import sqrt

import pytest

from soakbook.garden.entries import Catch
from soakbook.garden.jars import (
    LEAST_GAUGE_MM,
    measured_share,
    measured_shares,
    shares_caught,
    tells,
)
from soakbook.garden.records import Bed

WHEN = datetime(2031, 5, 15, 7, tzinfo=UTC)


def catch(jar_mm: float, gauge_mm: float, bed_uid: str = "wall") -> Catch:
    return Catch(
        uid="catch",
        happened_at=WHEN,
        written_at=WHEN,
        bed_uid=bed_uid,
        jar_mm=jar_mm,
        gauge_mm=gauge_mm,
        typed="jar",
    )


def bed(rain_share: float | None = None) -> Bed:
    return Bed("wall", "wall", "Wall", 12.0, place="south wall foot", rain_share=rain_share)


def test_a_share_is_what_jars_caught_of_what_gauges_did() -> None:
    """6 of 14 and 1 of 6 mm are 7 of 20: not the mean of 0.43 and 0.17."""
    found = shares_caught([catch(6, 14), catch(1, 6), catch(8, 10, "ride")])
    assert found["wall"].fraction == pytest.approx(7 / 20)
    assert found["wall"].showers == 2
    assert found["ride"].fraction == pytest.approx(0.8)


@pytest.mark.parametrize(("showers", "log_sd"), [(1, 0.10), (2, 0.10 / sqrt(2)), (9, 0.05)])
def test_showers_make_it_surer_but_never_sure(showers: int, log_sd: float) -> None:
    """common practice, no source."""
    found = shares_caught([catch(6, 14)] * showers)
    assert found["wall"].log_sd == pytest.approx(log_sd)


def test_a_shower_too_small_tells_nothing() -> None:
    assert tells(catch(1, LEAST_GAUGE_MM))
    assert not tells(catch(1, 1.9))
    assert shares_caught([catch(1.9, 1.9)]) == {}
    assert shares_caught([catch(1.9, 1.9), catch(6, 14)])["wall"].fraction == pytest.approx(6 / 14)


def test_a_share_that_stands_in_the_book_was_said_after_the_jars() -> None:
    caught = shares_caught([catch(6, 14)])
    assert measured_share(bed(), caught) == caught["wall"]
    assert measured_share(bed(0.5), caught) is None
    assert measured_share(bed(), {}) is None


def test_shares_of_some_beds_come_in_their_order() -> None:
    caught = [catch(6, 14), catch(8, 10, "ride")]
    wall = shares_caught(caught)["wall"]
    assert measured_shares([bed(rain_share=0.4), bed()], caught) == (None, wall)
