"""Services that open no book: each gives the answer it was told to."""

import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any, NamedTuple

import pytest

from soakbook.cli.main import main
from soakbook.store.places import from_home
from tests.cli.reports import TOLD


class Asked(NamedTuple):
    """A service that was called, and with what."""

    service: str
    words: tuple[Any, ...]
    options: dict[str, Any]


class Services:
    """Services that open no book: each gives the answer it was told to, or raises it."""

    def __init__(self) -> None:
        self.answers: dict[str, Any] = {
            "where": Path("garden.book"),
            "ask": SimpleNamespace(say=[], nothing_came=False),
            "beds": {"beds": []},
            "looked_up": None,
            "hindrance": None,
        }
        self.asked: list[Asked] = []

    def module(self, name: str, services: tuple[str, ...]) -> ModuleType:
        """A module of services under this name."""
        module = ModuleType(name)
        for service in services:
            setattr(module, service, self._service(service))
        return module

    def _service(self, name: str) -> Callable[..., Any]:
        def service(*words: Any, **options: Any) -> Any:
            self.asked.append(Asked(name, words, options))
            answer = self.answers.get(name, TOLD)
            if isinstance(answer, BaseException):
                raise answer
            return answer

        return service

    def last(self) -> Asked:
        """The service called last."""
        return self.asked[-1]

    def called(self, service: str) -> Asked:
        """The last call of one service."""
        return [one for one in self.asked if one.service == service][-1]


MODULES = {
    "books": ("where", "new", "check_free"),
    "place": ("looked_up",),
    "checking": ("check_report", "hindrance"),
    "copying": ("copy",),
    "mornings": ("round_report", "why_report"),
    "amending": ("amend", "far_more_amended"),
    "undoing": ("undo",),
    "entries": (
        "doubts",
        "soak",
        "rain",
        "feel",
        "look",
        "wilt",
        "left",
        "loss",
        "mulch",
    ),
    "setup": (
        "bed",
        "part",
        "move",
        "rest",
        "bed_list",
        "beds",
        "jam_jar",
        "ruler",
        "plant",
        "plant_list",
        "tap",
        "person",
        "restriction",
        "rate",
    ),
    "exporting": ("export",),
    "importing": ("bring_back",),
    "weather": ("ask", "bring", "promises_report", "set_weather", "weather_report"),
}


@pytest.fixture
def services(monkeypatch: pytest.MonkeyPatch) -> Services:
    """Services in place of the real ones."""
    fakes = Services()
    for name, names in MODULES.items():
        module = f"soakbook.services.{name}"
        monkeypatch.setitem(sys.modules, module, fakes.module(module, names))
    books = sys.modules["soakbook.services.books"]
    monkeypatch.setattr(books, "from_home", from_home, raising=False)  # opens no book either
    return fakes


class Ran(NamedTuple):
    """What a command line came to."""

    status: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], services: Services) -> Run:
    """Run a command line on the services in place of the real ones."""

    def run_it(*words: str) -> Ran:
        status = main(words)
        out, err = capsys.readouterr()
        return Ran(status, out, err)

    return run_it
