"""How often the round asks for a finger, counted on the specimen."""

from collections import Counter
from datetime import date

from soakbook.truth.asking import MOST_ASKED, Asked, asked_in_a_season, page_of


def test_with_a_feel_a_week_at_most_one_bed_morning_in_ten_asks_for_one() -> None:
    season = asked_in_a_season(7)
    assert season.mornings.total() > 1500
    assert season.share <= MOST_ASKED


def test_without_feels_it_asks_far_oftener() -> None:
    """Up to June; the same mornings either way."""
    last = date(2031, 6, 1)
    never, weekly = (asked_in_a_season(days, last, members=50) for days in (0, 7))
    assert never.mornings == weekly.mornings
    assert never.share > 2 * weekly.share
    assert never.share > MOST_ASKED


def test_the_table_says_whether_the_target_is_held() -> None:
    """Two of ten in April, none of ten in May: one in ten, which is borne."""
    mornings, asked = Counter({4: 10, 5: 10}), Counter({4: 2})
    page = page_of([Asked(7, mornings, asked, Counter({"Apart.": 2}), 1500.0, 12)])
    assert "every 7 days         20    0  10.0     20     12   1.5" in page
    assert page.endswith("target, felt once a week: at most 10: held\nevery 7 days      2  Apart.")
    more = Asked(7, mornings, Counter({4: 3}), Counter(), 0.0, 0)
    assert "at most 10: missed" in page_of([more])
