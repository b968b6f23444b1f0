"""The morning stays light: what the round imports is counted, not timed."""

import sys

import pytest

from tests.house.process import ended_well

HEAVY = {
    "apprise",
    "apscheduler",
    "fastapi",
    "icalendar",
    "matplotlib",
    "pandas",
    "pydantic",
    "pyet",
    "requests",
    "requests_cache",
    "scipy",
    "xarray",
}
FETCHING = {"asyncio", "http", "socket", "ssl", "urllib3"}
RECKONING = {"numpy", "soakbook.reckoning"}


def imported(*arguments: str) -> set[str]:
    """Modules that a Python process imports, seen by -X importtime."""
    done = ended_well(sys.executable, "-X", "importtime", *arguments)
    lines = [line for line in done.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip() for line in lines[1:]}


def among(modules: set[str], unwanted: set[str]) -> set[str]:
    """Those of the modules that are, or lie inside, something unwanted."""
    return {
        module
        for module in modules
        if any(module == one or module.startswith(f"{one}.") for one in unwanted)
    }


def test_counting_sees_what_is_imported() -> None:
    found = imported("-c", "import sqlite3")
    assert "sqlite3" in found
    assert among(found | {"numpyish"}, {"sqlite3", "numpy"}) == {"sqlite3", "sqlite3.dbapi2"}


def test_the_round_is_light_and_lighter_from_its_cache(capsys: pytest.CaptureFixture[str]) -> None:
    """Reckoned anew, then from the cache that this left behind: the same process twice."""
    anew = imported("-m", "soakbook", "round", "--specimen")
    cached = imported("-m", "soakbook", "round", "--specimen")
    with capsys.disabled():
        print(f"\nmodules imported by the round: {len(anew)} anew, {len(cached)} from its cache")
    assert among(anew, HEAVY | FETCHING) == set()
    assert "soakbook.reckoning.physics.step" in anew
    assert among(cached, HEAVY | FETCHING | RECKONING) == set()


@pytest.mark.parametrize("options", [["--json"], ["--card"]])
def test_other_forms_of_the_round_come_from_the_same_cache(options: list[str]) -> None:
    imported("-m", "soakbook", "round", "--specimen")
    found = imported("-m", "soakbook", "round", "--specimen", *options)
    assert among(found, HEAVY | FETCHING | RECKONING) == set()


def test_asking_for_help_loads_no_heavy_library() -> None:
    assert among(imported("-m", "soakbook", "--help"), HEAVY | FETCHING | RECKONING) == set()


def test_importing_soakbook_loads_nothing() -> None:
    found = imported("-c", "import soakbook")
    assert {module for module in found if module.startswith("soakbook")} == {
        "soakbook",
        "soakbook.version",
    }
    assert among(found, HEAVY | FETCHING | RECKONING | {"click", "sqlite3"}) == set()
