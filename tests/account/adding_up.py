"""Whether an account adds up: days to the ledger, beds and months to days and visits, litres' way to all."""

import math

import numpy as np
import pytest

from soakbook.account.days import BALANCE_IN, BALANCE_OUT
from soakbook.account.frames import FRAMES, frames_of
from soakbook.account.litres_way import LitresWay
from soakbook.account.report import Report, json_of, report_of
from soakbook.account.reviewed import Account

CLOSES_TO_L = 1e-6
FLOWS = ("rain_l", "drunk_l", "soil_evaporated_l", "mulch_evaporated_l", "drained_l", "run_off_l")
SIGNED = {"squared_l"}


def adds_up(account: Account) -> Report:
    """Assert it of all frames and of the whole's way and every bed's; the report is made and can be told as JSON."""
    for name, frame in frames_of(account).items():
        assert list(frame.columns) == list(FRAMES[name]), name
    _days(account)
    _beds_and_months(account)
    ways = [_way(account.way(uid)) for uid in account.beds["bed_uid"]]
    whole = _way(account.way())
    for name in ("rain_l", "given_l"):
        assert math.fsum(one.came[name] for one in ways) == pytest.approx(whole.came[name])
    for name in (*FLOWS[1:], "given_lost_l", "held_last_l", "gone_l"):
        assert math.fsum(one.went[name] for one in ways) == pytest.approx(whole.went[name])
    report = report_of(account)
    assert json_of(report)["year"] == account.span.year
    assert report.totals.litres == pytest.approx(account.visits["litres"].sum())
    return report


def _days(account: Account) -> None:
    days = account.days
    came, went = days[list(BALANCE_IN)].sum(axis=1), days[list(BALANCE_OUT)].sum(axis=1)
    assert (came - went).abs().max() <= CLOSES_TO_L or days.empty
    for _, mine in days.groupby("planting_uid", observed=True):
        assert (np.diff(mine["day"]) == np.timedelta64(1, "D")).all()
        assert mine["closing_l"].to_numpy()[:-1] == pytest.approx(mine["opening_l"].to_numpy()[1:])
        assert (np.diff(mine["count"]) <= 0).all()
    litres = [name for name in days.columns if name.endswith("_l") and name not in SIGNED]
    assert (days[litres] >= 0).all(axis=None)
    assert days["day"].between(str(account.span.first), str(account.span.until)).all()


def _beds_and_months(account: Account) -> None:
    days, visits, beds, months = account.days, account.visits, account.beds, account.months
    for frame in (beds, months, account.sources):
        assert frame["litres"].sum() == pytest.approx(visits["litres"].sum())
    watered = int((visits["what"] == "watered").sum())
    assert beds["visits"].sum() == months["visits"].sum() == watered
    for name in FLOWS:
        assert months[name].sum() == pytest.approx(days[name].sum())
        if name in beds:
            assert beds[name].sum() == pytest.approx(days[name].sum())


def _way(way: LitresWay) -> LitresWay:
    assert min(*way.came.values(), *way.went.values()) >= 0
    assert math.fsum(way.came.values()) == pytest.approx(math.fsum(way.went.values()), abs=1e-6)
    return way
