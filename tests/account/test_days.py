"""The frame of days of the specimen: it adds up to the ledger, and what was given is what was entered."""

from collections import defaultdict
from datetime import date, datetime, time, timedelta

import pytest

from soakbook.account.days import BALANCE_IN, BALANCE_OUT, DAY_COLUMNS, no_days
from soakbook.account.reviewed import Account
from soakbook.garden.entries import Loss, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting
from tests.account.adding_up import CLOSES_TO_L, adds_up

EVENING = time(17)


def test_it_adds_up(reviewed_specimen: Account) -> None:
    adds_up(reviewed_specimen)


def test_every_row_comes_to_the_same_on_both_sides(reviewed_specimen: Account) -> None:
    days = reviewed_specimen.days
    gap = days[list(BALANCE_IN)].sum(axis=1) - days[list(BALANCE_OUT)].sum(axis=1)
    assert gap.abs().max() < CLOSES_TO_L
    for name in {*BALANCE_IN, *BALANCE_OUT}:
        assert days[name].abs().max() > 0, name


def given_by_entries(pages: Pages) -> dict[tuple[date, str], float]:
    """Litres by step day and planting: count x (usual dose, else a quarter of the ball, at least 0.5 L), if not named.

    Plants that died on the soak's day stood in it still; of those dead by the step nothing is reckoned.
    """
    dead: dict[str, list[tuple[date, int]]] = defaultdict(list)
    for loss in pages.entries:
        if isinstance(loss, Loss):
            assert isinstance(loss.happened_at, datetime)
            dead[loss.planting_uid].append((loss.happened_at.date(), loss.count))

    def living(one: Planting, day: date) -> int:
        lost = sum(count for lost_on, count in dead[one.uid] if lost_on < day)
        return one.count - lost if one.planted_on <= day else 0

    found: dict[tuple[date, str], float] = defaultdict(float)
    for soak in pages.entries:
        if isinstance(soak, Soak):
            assert isinstance(soak.happened_at, datetime)
            day = soak.happened_at.date()
            step = day + timedelta(days=soak.happened_at.time() > EVENING)
            parts = {
                one: living(one, day) * (one.usual_dose_l or max(0.25 * one.ball_volume_l, 0.5))
                for one in pages.plantings
                if one.bed_uid == soak.bed_uid and soak.planting_uid in (None, one.uid)
            }
            for one, part in parts.items():
                if part:
                    share = part / sum(parts.values()) * living(one, step) / living(one, day)
                    found[step, one.uid] += soak.litres * share
    return found


def test_what_was_given_is_what_was_entered(reviewed_specimen: Account) -> None:
    days = reviewed_specimen.days
    given = days[days["given_l"] > 0]
    found = {
        (day.date(), uid): litres
        for day, uid, litres in zip(
            given["day"], given["planting_uid"], given["given_l"], strict=True
        )
    }
    assert found == pytest.approx(given_by_entries(reviewed_specimen.pages))
    assert len(found) > 500


def test_a_planting_is_there_from_its_day_to_its_last_plants(reviewed_specimen: Account) -> None:
    days = reviewed_specimen.days
    for planting in reviewed_specimen.pages.plantings:
        mine = days[days["planting_uid"] == planting.uid]
        assert mine["day"].min().date() == planting.planted_on
        assert mine["day"].max().date() == reviewed_specimen.span.until
        assert mine["count"].iloc[0] == planting.count
    lost = days.groupby("planting_uid", observed=True)["count"].agg(
        lambda of: of.iloc[0] - of.iloc[-1]
    )
    assert lost.sum() == 26


def test_its_evenings_are_in_order_and_its_bare_roots_have_no_ball(
    reviewed_specimen: Account,
) -> None:
    days, bare = reviewed_specimen.days, {
        one.uid for one in reviewed_specimen.pages.plantings if one.origin == "bare"
    }  # fmt: skip
    without = days["planting_uid"].isin(bare)
    assert without.any()
    assert days["ball_p50"].isna().equals(without)
    assert days["ball_state"].isna().equals(without)
    assert not days["state"].isna().any()
    for store, of in (("ball", days[~without]), ("bed", days)):
        assert (of[f"{store}_p10"] <= of[f"{store}_p50"]).all()
        assert (of[f"{store}_p50"] <= of[f"{store}_p90"]).all()
    dry = days["state"].isin(["wanting", "parched"])
    assert days.loc[dry, "wanting_share"].min() > 0.45
    assert days.loc[~dry & (days["state"] != "sodden"), "wanting_share"].max() < 0.55


def test_no_more_rain_reached_the_soil_than_fell(reviewed_specimen: Account) -> None:
    days = reviewed_specimen.days
    fallen_mm = days["rain_l"] / (days["count"] * days["cell_m2"])
    assert (days["into_soil_mm"] <= fallen_mm + 1e-9).all()
    assert (days["into_soil_mm"][days["rain_gauge_mm"] == 0] == 0).all()


def test_without_anything_reckoned_it_has_its_columns_still(reviewed_specimen: Account) -> None:
    empty = no_days()
    assert list(empty.columns) == list(DAY_COLUMNS)
    assert empty.empty
    for name, kind in reviewed_specimen.days.dtypes.items():
        assert empty[name].dtype.name == kind.name, name
