"""Somebody at the terminal who answers, and what stands on the screen when they are done."""

from collections import deque
from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

import click
import pytest

from soakbook.cli import options, paper
from soakbook.cli.main import main


class Talked(NamedTuple):
    """How a conversation ended, and all of it as it stands on the screen."""

    status: int
    screen: str
    unasked: tuple[str, ...]
    """Answers that nothing asked for."""


class Talk:
    """A terminal with somebody at it. Answers that are lists are lines pasted at once; None breaks off."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self._capsys = capsys
        self._answers: deque[str | None] = deque()
        self._pasted: deque[str] = deque()
        monkeypatch.setattr(paper, "somebody_there", lambda: True)
        monkeypatch.setattr(paper, "ask", self._ask)
        monkeypatch.setattr(paper, "_more_waits", lambda: bool(self._pasted))
        monkeypatch.setattr(paper, "_next_line", lambda: self._typed(self._pasted.popleft()))
        monkeypatch.setattr(paper, "put_error", lambda text: click.echo(f"soakbook: {text}"))
        self._set = monkeypatch.setattr

    def talk(
        self, words: Iterable[str], answers: Iterable[str | list[str] | None], now: datetime
    ) -> Talked:
        """Run a command line, give these answers in turn."""
        self._set(options, "now", lambda: now)
        self._answers = deque()
        for one in answers:
            self._answers.append("\n".join(one) if isinstance(one, list) else one)
        status = main(list(words))
        left = tuple(one or "" for one in self._answers)
        return Talked(status, self._capsys.readouterr().out, left)

    def _ask(self, question: str, default: str | None = None) -> str:
        shown = f"{question} [{default}]: " if default else f"{question}: "
        click.echo(shown, nl=False)
        answer = self._answers.popleft() if self._answers else None
        if answer is None:
            click.echo()
            raise click.Abort
        first, *pasted = answer.split("\n")
        self._pasted = deque(pasted)
        return self._typed(first) or default or ""

    def _typed(self, line: str) -> str:
        click.echo(line)
        return line


@pytest.fixture
def talk(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Talk:
    """Somebody at the terminal."""
    return Talk(monkeypatch, capsys)
