"""What services may say wrongly or strangely, by the table's own cases; and that the table counts all of them."""

from pathlib import Path
from unittest.mock import patch

import pytest

from tests.weather import faults
from tests.weather.faults import CASES, NOW, Case, faults_of, main, no_proxies
from tests.weather.file_faults import FILE_CASES
from tests.weather.made_answers import forecast
from tests.weather.reading import first_service, played
from tests.weather.reading_faults import READING_CASES
from tests.weather.spoiled import changed, without

ALL = [case for cases in READING_CASES.values() for case in cases]


@pytest.mark.parametrize("case", ALL, ids=lambda case: case.fault)
def test_faults(case: Case, tmp_path: Path) -> None:
    """What came or was said, the older answer kept or replaced, the same beside an older answer as without."""
    with no_proxies():
        came = case.play(tmp_path)
    assert faults_of(case, came) == []


def test_the_cases_differ() -> None:
    names = [case.fault for case in (*CASES, *FILE_CASES, *ALL)]
    assert len(set(names)) == len(names)


def test_an_older_answer_that_ought_not_to_stand_in_is_noticed(tmp_path: Path) -> None:
    """The cases can fail: a refused answer said to be one that nothing stands in for, and a good one said to be bad."""
    bad = {"/forecast": changed(forecast(NOW), without("precipitation"))}
    with no_proxies():
        came = played(first_service(), bad, stands_in=False)(tmp_path)
    assert came.wrong == ("the older answer stood in",)
    case = Case("good", lambda _: came, "down", "503", False)
    assert len(faults_of(case, came)) == 4


def test_the_table_groups_all_cases_and_counts_them_once(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Played as if all went well: only the printing is looked at."""

    def printed_only(case: Case) -> bool:
        print(case.fault)
        return case.fault != "hang"

    with patch.object(faults, "_printed", printed_only):
        assert main() == 1
    printed = capsys.readouterr().out
    count = len(CASES) + len(FILE_CASES) + len(ALL)
    assert printed.endswith(f"\n{count - 1} of {count} as they should be\n")
    places = [printed.index(f"\n{title}\n") for title in ("on the line", *READING_CASES)]
    assert places == sorted(places)
