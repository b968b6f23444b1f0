"""What a book begins with, read; how it is asked is in the tests of `book new`."""

from collections.abc import Iterable

import pytest

from soakbook.cli import new_garden
from soakbook.cli.new_garden import days_and_hours
from soakbook.errors import InputError


@pytest.mark.parametrize(
    ("text", "days", "hours"),
    [
        ("every day, 2 h", range(7), 2.0),
        ("mon-sat 2h", range(6), 2.0),
        ("mon,wed,fri 1h30", (0, 2, 4), 1.5),
        ("weekends for 45min", None, None),
        ("45 min", range(7), 0.75),
        ("sat", (5,), 2.0),
        ("mon, 1½ h", (0,), 1.5),
    ],
)
def test_days_and_hours(text: str, days: Iterable[int] | None, hours: float | None) -> None:
    if days is None:
        with pytest.raises(InputError, match="weekdays such as"):
            days_and_hours(text)
    else:
        assert days_and_hours(text) == (frozenset(days), hours)


def test_this_machines_own_clock_is_a_zone_or_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    links = {"/usr/share/zoneinfo/Europe/London": "Europe/London", "/etc/localtime": None}
    monkeypatch.delenv("TZ", raising=False)
    monkeypatch.setattr(new_garden, "_first_line", lambda _: "")
    for target, clock in links.items():
        monkeypatch.setattr("os.path.realpath", lambda _, target=target: target)
        assert new_garden.own_clock() == clock
    monkeypatch.setattr(new_garden, "_first_line", lambda _: "Europe/Paris")
    assert new_garden.own_clock() == "Europe/Paris"
    monkeypatch.setenv("TZ", ":Europe/Rome")
    assert new_garden.own_clock() == "Europe/Rome"
