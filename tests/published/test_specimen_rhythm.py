"""The specimen's rhythm by stage beside the trade's; sources, dated as they stand there, are in `specimen_rhythm`.

The order of the three is University of Minnesota Extension's (daily, every 2-3 days, weekly; read at second hand);
that it holds on an invented garden is a check of sense: common practice, no source.
"""

import pytest

from tests.published.specimen_rhythm import STAGES, Rhythm, rhythms, table, thirst_between_mm


@pytest.fixture(scope="module")
def found() -> tuple[Rhythm, ...]:
    return rhythms()


def test_settling_plants_are_watered_more_often_than_rooted_ones(
    found: tuple[Rhythm, ...],
) -> None:
    """By what the air asks for between two soaks: common practice, no source, beyond the order of the stages."""
    settling, knitting, rooting = (thirst_between_mm(found, stage) for stage in STAGES)
    print(table(found))
    assert max(settling, knitting) < rooting


def test_the_table_has_a_line_for_every_planting(found: tuple[Rhythm, ...]) -> None:
    """Eleven plantings, the heading, the trade's line and the thirst between: common practice, no source."""
    lines = table(found).splitlines()
    assert len(lines) == len(found) + 3 == 14
    assert all(len(line) == len(lines[0]) for line in lines)
