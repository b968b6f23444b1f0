"""What the specimen's season suggests beside made-up ways of watering: each line stands on its numbers."""

from dataclasses import replace
from datetime import date

import pandas as pd
import pytest

from soakbook.account.reviewed import Account
from soakbook.account.rows import rows_of
from soakbook.account.suggestions import (
    OF_GARDENS,
    Suggestion,
    bed_page,
    second_year,
    suggestions_of,
)
from soakbook.account.ways import ByRound, Doubt, Given, Way
from soakbook.account.what_if import DRAWN

PRAISE = ("saved", "well done", "healthy", "safe", "guarantee", "will ")


def by_round(
    visits: Doubt, visits_change: Doubt, litres: float = 9000.0, litres_change: Doubt | None = None
) -> ByRound:
    none = Doubt(0, 0, 0)
    return ByRound(
        Doubt(litres, litres, litres), visits, none, litres_change or none, visits_change, none
    )


def ways(*of: Way) -> tuple[Way, ...]:
    was = by_round(Doubt(62, 34, 76), Doubt(0, 0, 0))
    return (
        Way("as_it_was", "as it was", "school", by_round=was),
        Way("as_it_was", "as it was", by_round=was),
        *of,
    )


def earlier(change: Doubt, key: str = "autumn", refused: str = "") -> Way:
    found = (
        None
        if refused
        else by_round(Doubt(30, 20, 40), change, litres_change=Doubt(400.0, 100.0, 900.0))
    )
    return Way(key, f"planted as {key}", "school", by_round=found, refused=refused)


def about(found: tuple[Suggestion, ...], what: str) -> list[Suggestion]:
    return [one for one in found if one.about == what]


def test_fewer_waterings_are_told_with_their_doubt_and_their_water(
    reviewed_specimen: Account,
) -> None:
    (found,) = about(
        suggestions_of(reviewed_specimen, ways(earlier(Doubt(-32, -41, -12)))), "planting"
    )
    assert found.say == (
        "Schoolroom Bed was planted 6 May, 9 lost. Reckoned again by the round, planted as autumn: 32 fewer of its 62 "
        "waterings (12 to 41 fewer in nine likely gardens), with 400 L more water (100 L more to 900 L more)."
    )
    assert (found.bed, found.page) == ("school", bed_page("school"))


def test_only_days_are_told_that_another_planting_day_would_have_stood_for(
    reviewed_specimen: Account,
) -> None:
    """Neither those of years before, nor of what took a dead plant's place."""
    (bed,) = [one for one in reviewed_specimen.pages.beds if one.key == "school"]
    (new,) = [one for one in reviewed_specimen.pages.plantings if one.bed_uid == bed.uid]
    more = (
        new._replace(uid="old", planted_on=date(2029, 4, 2)),
        new._replace(uid="second", planted_on=date(2031, 8, 9), replaces=new.uid),
    )
    pages = reviewed_specimen.pages
    account = replace(reviewed_specimen, pages=pages._replace(plantings=(*pages.plantings, *more)))
    (found,) = about(suggestions_of(account, ways(earlier(Doubt(-32, -41, -12)))), "planting")
    assert found.say.startswith("Schoolroom Bed was planted 6 May, 9 lost.")
    before = tuple(
        one._replace(planted_on=date(2029, 4, 2)) if one is new else one for one in pages.plantings
    )
    old = replace(account, pages=pages._replace(plantings=before))
    assert about(suggestions_of(old, ways(earlier(Doubt(-32, -41, -12)))), "planting") == []


def test_the_gardens_that_are_told_of_are_those_that_are_drawn() -> None:
    assert f"in {('eight', 'nine', 'ten')[DRAWN + 1 - 8]} likely gardens" == OF_GARDENS


@pytest.mark.parametrize(
    "change",
    [Doubt(-32, -41, 2), Doubt(-3, -4, -2), Doubt(-14, -20, -9), Doubt(12, 4, 20)],
    ids=["some garden has more", "under five", "under a quarter", "more"],
)
def test_what_is_not_sure_or_little_is_not_told(reviewed_specimen: Account, change: Doubt) -> None:
    assert about(suggestions_of(reviewed_specimen, ways(earlier(change))), "planting") == []


def test_a_month_earlier_stands_in_for_an_autumn_that_cannot_be_reckoned(
    reviewed_specimen: Account,
) -> None:
    told = ways(
        earlier(Doubt(0, 0, 0), refused="no weather"),
        earlier(Doubt(-32, -41, -12), "month_earlier"),
    )
    (found,) = about(suggestions_of(reviewed_specimen, told), "planting")
    assert "planted as month_earlier" in found.say


def test_who_took_more_time_than_water_is_told_by_both_shares(reviewed_specimen: Account) -> None:
    (found,) = about(suggestions_of(reviewed_specimen, ()), "hours")
    beds = {bed["bed"]: bed for bed in rows_of(reviewed_specimen.beds)}
    hours, litres = (
        100 * beds["ride"][name] / sum(one[name] for one in beds.values())
        for name in ("hours", "litres")
    )
    assert found.say == (
        f"Orchard Ride hedge took {hours:.1f} of every 100 hours and {litres:.1f} of every 100 litres."
    )


def test_waterings_of_wet_ground_are_told_with_what_drowned(reviewed_specimen: Account) -> None:
    (found,) = about(suggestions_of(reviewed_specimen, ()), "held back")
    (dole,) = [bed for bed in rows_of(reviewed_specimen.beds) if bed["bed"] == "dole"]
    assert found.say.startswith(
        f"Dole Bed: {dole['held_visits']} waterings on a morning too wet for water"
    )
    assert "It lost 1 drowned." in found.say


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (
            Doubt(300, 100, 800),
            "about the same water, 300 L more on 9.0 m³ (100 L more to 800 L more",
        ),
        (Doubt(2500, 2000, 3000), "2.5 m³ more on 9.0 m³ (2.0 m³ more to 3.0 m³ more"),
        (Doubt(-2500, -3000, -2000), "2.5 m³ less on 9.0 m³ (3.0 m³ less to 2.0 m³ less"),
    ],
)
def test_mulch_is_not_sold_by_litres(reviewed_specimen: Account, change: Doubt, said: str) -> None:
    bare = Way(
        "no_mulch",
        "without mulch",
        by_round=by_round(Doubt(70, 60, 80), Doubt(8, 2, 9), 9000, change),
    )
    (found,) = about(suggestions_of(reviewed_specimen, ways(bare)), "mulch")
    assert f"without it, {said} in nine likely gardens)." in found.say
    assert found.page == "what-if"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (Doubt(28, 18, 37), "28 more dry days"),
        (Doubt(-9, -14, -3), "9 fewer dry days"),
        (Doubt(3, -2, 8), None),
    ],
)
def test_a_rhythm_is_told_where_eight_of_ten_sums_agree(
    reviewed_specimen: Account, change: Doubt, said: str | None
) -> None:
    twice = Way("twice_half", "twice as much half as often", given=Given(1, 1, change, change))
    found = about(suggestions_of(reviewed_specimen, ways(twice)), "rhythm")
    assert [one.say.split(": ")[1].split(" with")[0] for one in found] == ([said] if said else [])
    assert all("in eight of ten sums)" in one.say for one in found)


def test_nothing_is_suggested_before_the_season_is_over(reviewed_specimen: Account) -> None:
    so_far = replace(reviewed_specimen, span=reviewed_specimen.span._replace(closed=False))
    assert suggestions_of(so_far, ways(earlier(Doubt(-32, -41, -12)))) == ()


def test_nothing_is_suggested_of_weather_that_was_supposed(reviewed_specimen: Account) -> None:
    days = reviewed_specimen.days.assign(
        guessed=pd.Categorical(["rain"] * len(reviewed_specimen.days))
    )
    assert suggestions_of(replace(reviewed_specimen, days=days), ()) == ()


def test_next_year_looks_at_wall_feet_and_evergreens(reviewed_specimen: Account) -> None:
    assert second_year(reviewed_specimen) == (
        "Chapel Wall and Well Court: look through a dry winter. The others: likely two or three deep soaks in the "
        "worst spells."
    )


def test_no_line_praises_or_promises(reviewed_specimen: Account) -> None:
    twice = Way(
        "twice_half",
        "twice as much half as often",
        given=Given(1, 1, Doubt(3, 1, 5), Doubt(3, 1, 5)),
    )
    told = suggestions_of(reviewed_specimen, ways(earlier(Doubt(-32, -41, -12)), twice))
    assert len(told) >= 4
    for line in told:
        assert not [word for word in PRAISE if word in line.say.casefold()]
