"""The way out: one at a time, within its time, with the older answer where the service fails."""

import sqlite3
import threading
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from functools import partial
from pathlib import Path
from time import monotonic
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from soakbook.errors import InputError, WeatherError
from soakbook.weather.bodies import read_json, read_text
from soakbook.weather.refusals import QuestionError
from soakbook.weather.session.asking import Answer, Question, Request, Said
from soakbook.weather.session.kept import (
    FILE_NAME,
    Locked,
    file_of_answers,
    not_kept,
    put_aside,
    session_over,
)
from soakbook.weather.session.line import door, in_time, network_trouble

if TYPE_CHECKING:
    from requests_cache import CachedSession

LONGEST_BUSY_S = 5.0  # waiting for another process at the file; at most a quarter of the patience


class Outside:
    """The way out, a context manager. Before the first question no file is touched and nothing heavy imported.

    `findings` says what a gardener should know of the kept answers: a broken file moved aside, or none kept at all.
    """

    def __init__(
        self, folder: Path, user_agent: str, *, offline: bool = False, patience_s: float = 20.0
    ) -> None:
        self.findings: tuple[str, ...] = ()
        self._path = folder / FILE_NAME
        self._user_agent = user_agent
        self._offline = offline
        self._patience_s = patience_s
        self._session: CachedSession | None = None
        self._opening = threading.Lock()
        self._turns: dict[str, threading.Lock] = {}
        self._told_to_wait: dict[str, WeatherError] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        with self._opening:
            self._close()

    def get_json(
        self, request: Request, made_of: Callable[[Any], Said], now: datetime
    ) -> Answer[Said]:
        """What a service answers in JSON, or its last good answer while it fails.

        Parameters
        ----------
        request
            Goes to its service one at a time; within its lifetime an answer is not asked for again.
        made_of
            Makes of a body, parsed, what is wanted of it, once for each answer. Raises a ValueError, an InputError
            or a WeatherError for a body that is no such weather: that is not kept, and does not push out the older
            answer.
        now
            Zone-aware; a body that comes now is fetched now.

        Raises
        ------
        WeatherError
            The service failed, and no answer is held that is at most 14 days past its lifetime; or it was asked
            wrongly, where no older answer stands in.
        """

        def read(content: bytes, content_type: str) -> Said:
            body = read_json(content, content_type)
            try:
                return made_of(body)
            except (LookupError, TypeError, AttributeError) as fault:
                raise ValueError("sent an answer of another form than it should have") from fault
            except (ValueError, InputError) as fault:
                raise ValueError(f"sent an answer that cannot be right: {fault}") from fault

        return self._get(Question(request, read, now, self._patience_s))

    def get_text(self, request: Request, now: datetime) -> Answer[str]:
        """A table as text, at most 20 MB, or the last good one while the service fails.

        Parameters
        ----------
        request
            As for `get_json`.
        now
            Zone-aware.

        Raises
        ------
        WeatherError
            As for `get_json`.
        """
        return self._get(Question(request, read_text, now, self._patience_s))

    def wait(self, trouble: WeatherError) -> None:
        """Heed what a service said before about waiting, as if it had said so now; what is kept stands in."""
        if trouble.not_before is not None:
            self._told_to_wait[trouble.service] = trouble

    def _get(self, question: Question[Said]) -> Answer[Said]:
        service = question.request.service
        with self._turns.setdefault(service, threading.Lock()):
            trouble = self._why_not(service, question.now)
            if trouble is None:
                try:
                    return self._asked(question)
                except QuestionError:
                    raise
                except WeatherError as fault:
                    trouble = fault
            if trouble.not_before is not None:
                self._told_to_wait[service] = trouble
            held = self._held(question, trouble)
        if held is not None:
            return held
        if self._offline:
            raise WeatherError(service, "offline", f"{trouble.say}, and no answer of it is kept")
        raise trouble

    def _why_not(self, service: str, now: datetime) -> WeatherError | None:
        """Why the service is not to be asked at all now."""
        if self._offline:
            return WeatherError(service, "offline", "is not asked while offline")
        told = self._told_to_wait.get(service)
        return told if told is not None and told.not_before and now < told.not_before else None

    def _asked(self, question: Question[Said]) -> Answer[Said]:
        """What the service says now, or said within its lifetime; within the time that there is."""
        ends_at = monotonic() + self._patience_s
        for _ in range(3):  # as things are; with a new file of answers; with none
            session = self._opened()
            try:
                return in_time(partial(question.put_to, session), ends_at)
            except sqlite3.Error as fault:
                self._mend(session, fault)
                if question.accepted:  # it was good, only keeping it was not
                    return question.accepted[0]
            except Exception as fault:
                if question.accepted:
                    return question.accepted[0]
                trouble = network_trouble(question.request.service, fault, self._patience_s)
                if trouble is fault:
                    raise
                raise trouble from fault
        raise WeatherError(question.request.service, "down", "could not be asked")

    def _held(self, question: Question[Said], trouble: WeatherError) -> Answer[Said] | None:
        """The answer that is kept, if it is good still."""
        session = self._opened()
        try:
            return question.look_up(session, trouble)
        except sqlite3.Error as fault:
            self._mend(session, fault)
        except WeatherError:  # an older program kept it, and read it otherwise
            pass
        except ValueError:  # an address that cannot be right: nothing is kept of it
            pass
        return None

    def _opened(self) -> "CachedSession":
        with self._opening:
            if self._session is None:
                self._open()
            assert self._session is not None
            return self._session

    def _open(self, backend: Any = None) -> None:
        findings: tuple[str, ...] = ()
        if backend is None:
            busy_s = min(LONGEST_BUSY_S, self._patience_s / 4)
            backend, findings = file_of_answers(self._path, busy_s)
        self._session = session_over(backend, self._user_agent, door(self._patience_s))
        self.findings += findings

    def _mend(self, session: "CachedSession", fault: sqlite3.Error) -> None:
        """After an error of the file: a new one in its place, or none while somebody else has it."""
        with self._opening:
            if session is not self._session:  # another thread has done so
                return
            self._close()
            if isinstance(fault, sqlite3.OperationalError | Locked):
                self.findings += (not_kept(self._path, fault),)
                self._open("memory")
            else:
                self.findings += put_aside(self._path)
                self._open()

    def _close(self) -> None:
        if self._session is not None:
            with suppress(sqlite3.Error):
                self._session.close()  # type: ignore[no-untyped-call]
            self._session = None
