"""What came of targets together."""

import pytest

from soakbook.truth.targets import Judged, Tally, tally


@pytest.mark.parametrize(
    ("met", "come_of"),
    [
        ([True, True], Tally(2, 2, True)),
        ([True, None], Tally(2, 1, None)),
        ([False, None], Tally(2, 1, False)),
        ([None], Tally(1, 0, None)),
        ([], Tally(0, 0, None)),
    ],
)
def test_met_only_when_all_were_judged(met: list[bool | None], come_of: Tally) -> None:
    assert tally([Judged("x", 1.0, "<= 1", one) for one in met]) == come_of
