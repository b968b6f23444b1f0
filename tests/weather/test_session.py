"""Asking a service that answers on this machine; every fault of the line and of the file, by the table's own cases."""

import io
import logging
import os
import sqlite3
import stat
import threading
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from time import monotonic
from typing import Any

import pytest

from soakbook.errors import WeatherError
from soakbook.weather.session import Answer, Outside, Request
from soakbook.weather.session.line import ASKING
from tests.weather.faults import (
    AGENT,
    CASES,
    LATER,
    NOW,
    PATIENCE_S,
    RAIN,
    Case,
    faults_of,
    has_rain,
    no_proxies,
    outdated,
    request,
)
from tests.weather.file_faults import FILE_CASES
from tests.weather.server import Reply, Server, refused_address, reply_json

FIVE = "Thu, 15 May 2031 05:00:00 GMT"
CSV = "date,rain_mm\n2031-05-14,1.2\n"


@pytest.fixture(autouse=True)
def straight() -> Iterator[None]:
    with no_proxies():
        yield


@pytest.fixture
def server() -> Iterator[Server]:
    with Server() as found:
        found.script["/weather"] = reply_json(RAIN)
        yield found


@pytest.fixture
def outside(tmp_path: Path) -> Iterator[Outside]:
    with Outside(tmp_path, AGENT, patience_s=PATIENCE_S) as found:
        yield found


def ask(outside: Outside, server: Server, now: datetime = NOW, **more: str) -> Answer[Any]:
    return outside.get_json(request(server.url(), **more), has_rain, now)


@pytest.mark.parametrize("case", [*CASES, *FILE_CASES], ids=lambda case: case.fault)
def test_faults(case: Case, tmp_path: Path) -> None:
    """The right kind, a clear sentence, the older answer kept and served, the time held."""
    came = case.play(tmp_path)
    assert faults_of(case, came) == []


def test_the_cases_differ() -> None:
    names = [case.fault for case in (*CASES, *FILE_CASES)]
    assert len(set(names)) == len(names)


def test_what_is_sent(outside: Outside, server: Server) -> None:
    """The parameters in their order, the program's own name, nothing that is between us and our cache."""
    ask(outside, server)
    (seen,) = server.seen
    assert seen.params == [("latitude", "51.88"), ("longitude", "-2.26")]
    assert seen.headers["user-agent"] == AGENT
    assert "gzip" in seen.headers["accept-encoding"]
    assert {"cache-control", "if-modified-since", "authorization"} & set(seen.headers) == set()


def test_nothing_is_asked_twice_within_its_lifetime(tmp_path: Path, server: Server) -> None:
    with Outside(tmp_path, AGENT) as first:
        told = ask(first, server)
    with Outside(tmp_path, AGENT) as second:
        kept = ask(second, server, LATER)
    assert kept == told == Answer(RAIN, NOW, False, None, 200, None)
    assert len(server.seen) == 1


def test_a_service_may_name_a_shorter_lifetime(outside: Outside, server: Server) -> None:
    server.script["/weather"] = [outdated(), reply_json({"hourly": {"rain_mm": [9.0]}})]
    ask(outside, server)
    assert ask(outside, server, LATER).said["hourly"]["rain_mm"] == [9.0]


def test_what_a_service_forbids_to_keep_is_not_kept(outside: Outside, server: Server) -> None:
    server.script["/weather"] = reply_json(RAIN, cache_control="no-store")
    ask(outside, server)
    ask(outside, server)
    assert len(server.seen) == 2


def test_an_unchanged_answer_keeps_its_own_time(outside: Outside, server: Server) -> None:
    """304: the body is of six o'clock, its lifetime begins anew, and it is not asked for a third time."""
    server.script["/weather"] = [outdated(last_modified=FIVE), Reply(304), Reply(500)]
    ask(outside, server)
    again = ask(outside, server, LATER)
    third = ask(outside, server, LATER)
    assert again == third == Answer(RAIN, NOW, False, None, 200, FIVE)
    assert server.seen[1].headers["if-modified-since"] == FIVE
    assert len(server.seen) == 2


def test_an_answer_of_more_than_a_fortnight_does_not_stand_in(
    outside: Outside, server: Server
) -> None:
    server.script["/weather"] = [outdated(hours=24 * 14 + 1), Reply(503)]
    ask(outside, server)
    with pytest.raises(WeatherError) as error:
        ask(outside, server, LATER)
    assert error.value.kind == "down"


def test_an_answer_of_nearly_a_fortnight_stands_in(outside: Outside, server: Server) -> None:
    server.script["/weather"] = [outdated(hours=24 * 14 - 1), Reply(503)]
    ask(outside, server)
    assert ask(outside, server, LATER).stale


def test_a_service_that_wants_patience_is_left_alone(outside: Outside, server: Server) -> None:
    """429 to one question holds for all, until the time it named; then it is asked again."""
    server.script["/weather"] = [reply_json({}, 429, retry_after="90"), reply_json(RAIN)]
    for seconds in (0, 89):
        with pytest.raises(WeatherError) as error:
            ask(outside, server, NOW + timedelta(seconds=seconds), place=str(seconds))
        assert error.value.kind == "busy"
        assert error.value.not_before == NOW + timedelta(seconds=90)
    assert len(server.seen) == 1
    assert not ask(outside, server, NOW + timedelta(seconds=90)).stale


def test_another_service_is_not_waited_for(outside: Outside, server: Server) -> None:
    server.script["/shut"] = Reply(403)
    with pytest.raises(WeatherError):
        outside.get_json(Request("Shut", server.url("/shut"), {}, 60), has_rain, NOW)
    assert ask(outside, server).said == RAIN


@pytest.mark.parametrize(("status", "times"), [(503, 3), (500, 3), (429, 1), (403, 1), (501, 1)])
def test_what_is_repeated(outside: Outside, server: Server, status: int, times: int) -> None:
    server.script["/weather"] = Reply(status)
    with pytest.raises(WeatherError):
        ask(outside, server)
    assert len(server.seen) == times


def test_a_short_fault_is_not_noticed(outside: Outside, server: Server) -> None:
    server.script["/weather"] = [Reply(502), reply_json(RAIN)]
    assert ask(outside, server) == Answer(RAIN, NOW, False, None, 200, None)


@pytest.mark.parametrize(
    "address", ["", "weather", "ftp://127.0.0.1/x.csv", "http://", "http://[x"]
)
def test_an_address_that_is_none(outside: Outside, address: str) -> None:
    with pytest.raises(WeatherError, match="an address that cannot be right") as error:
        outside.get_text(Request("Station", address, {}, 60), NOW)
    assert error.value.kind == "refused"


def test_a_check_may_say_itself_what_is_wrong(outside: Outside, server: Server) -> None:
    def check(body: Any) -> None:
        raise WeatherError("Skywatch", "rubbish", "speaks of Tuesday")

    with pytest.raises(WeatherError, match=r"^Skywatch: speaks of Tuesday$"):
        outside.get_json(request(server.url()), check, NOW)


def test_a_kept_answer_that_a_newer_program_cannot_use_is_asked_for_anew(
    tmp_path: Path, server: Server
) -> None:
    server.script["/weather"] = [reply_json({"old": 1}), reply_json(RAIN)]
    with Outside(tmp_path, AGENT) as older:
        older.get_json(request(server.url()), lambda body: None, NOW)
    with Outside(tmp_path, AGENT) as newer:
        assert ask(newer, server, LATER) == Answer(RAIN, LATER, False, None, 200, None)


def test_a_table_as_text(outside: Outside, server: Server) -> None:
    server.script["/station.csv"] = Reply(200, CSV.encode(), "text/csv", {"Last-Modified": FIVE})
    answer = outside.get_text(Request("Station", server.url("/station.csv"), {}, 60), NOW)
    assert answer == Answer(CSV, NOW, False, None, 200, FIVE)


def test_a_turning_is_followed_and_leaves_nothing_on_disk(tmp_path: Path, server: Server) -> None:
    """Kept under the address that was asked; the one it leads to may hold a key."""
    server.script["/station.csv"] = Reply(302, headers={"Location": "/there.csv?X-Sign=hush"})
    server.script["/there.csv"] = Reply(200, CSV.encode(), "text/csv")
    ask_for = Request("Station", server.url("/station.csv"), {}, 60)
    with Outside(tmp_path, AGENT) as first:
        assert first.get_text(ask_for, NOW).said == CSV
    assert [seen.path for seen in server.seen] == ["/station.csv", "/there.csv"]
    with Outside(tmp_path, AGENT, offline=True) as second:
        assert second.get_text(ask_for, LATER) == Answer(CSV, NOW, False, None, 200, None)
    assert not any(b"hush" in path.read_bytes() for path in tmp_path.iterdir())


@pytest.mark.parametrize("name", ["apikey", "apiKey", "api_key", "appid", "key", "token"])
def test_no_secret_lies_on_disk(tmp_path: Path, server: Server, name: str) -> None:
    server.script["/weather"] = [outdated(), Reply(500)]
    with Outside(tmp_path, AGENT, patience_s=PATIENCE_S) as outside:
        ask(outside, server, NOW, **{name: "hush-hush"})
        answer = ask(outside, server, NOW, **{name: "hush-hush"})
        on_disk = [path.read_bytes() for path in tmp_path.iterdir()]
    assert (name, "hush-hush") in server.seen[0].params
    assert any(b"latitude" in content for content in on_disk)
    assert not any(b"hush-hush" in content for content in on_disk)
    assert "hush" not in str(answer.trouble)


@pytest.mark.skipif(os.name != "posix", reason="modes of files are POSIX's")
def test_the_file_is_the_users_alone(tmp_path: Path, server: Server) -> None:
    (tmp_path / "answers.sqlite").touch(mode=0o644)
    with Outside(tmp_path, AGENT) as outside:
        ask(outside, server)
        modes = {stat.S_IMODE(path.stat().st_mode) for path in tmp_path.iterdir()}
    assert modes == {0o600}


def test_the_file_is_in_wal_mode(tmp_path: Path, server: Server) -> None:
    with Outside(tmp_path, AGENT) as outside:
        ask(outside, server)
    connection = sqlite3.connect(tmp_path / "answers.sqlite")
    assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    connection.close()


def test_nothing_is_touched_before_the_first_question(tmp_path: Path) -> None:
    with Outside(tmp_path / "cache", AGENT):
        pass
    assert list(tmp_path.iterdir()) == []


def test_without_a_file_answers_are_kept_for_the_run(tmp_path: Path, server: Server) -> None:
    (tmp_path / "taken").write_text("a file where a folder should be")
    with Outside(tmp_path / "taken", AGENT) as outside:
        ask(outside, server)
        assert ask(outside, server, LATER).fetched_at == NOW
    assert len(server.seen) == 1
    assert [text.partition(":")[0] for text in outside.findings] == [
        "answers of weather services are not kept past this run"
    ]


def test_one_at_a_time_to_a_service(tmp_path: Path, server: Server) -> None:
    """Eight threads with a place each, and eight more that want the same as they."""
    server.script["/weather"] = reply_json(RAIN)._replace(after_s=0.02)
    answers: list[Answer[Any]] = []
    with Outside(tmp_path, AGENT) as outside:
        threads = [
            threading.Thread(
                target=lambda place=number % 8: answers.append(
                    ask(outside, server, place=str(place))
                )
            )
            for number in range(16)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    assert len(answers) == 16
    assert len(server.seen) == 8
    assert server.most_at_once == 1


def test_two_services_at_once(tmp_path: Path, server: Server) -> None:
    """A slow one does not hold the other."""
    server.script["/slow"] = Reply(fault="hang")
    with Outside(tmp_path, AGENT, patience_s=PATIENCE_S) as outside:
        ask(outside, server)
        slow = Request("Slow", server.url("/slow"), {}, 60)

        def wait() -> None:
            with pytest.raises(WeatherError):
                outside.get_json(slow, has_rain, NOW)

        waiting = threading.Thread(target=wait)
        waiting.start()
        started = monotonic()
        ask(outside, server, place="elsewhere")
        took_s = monotonic() - started
        waiting.join()
    assert took_s < PATIENCE_S


def test_nobody_listens_on_when_the_time_is_up(tmp_path: Path, server: Server) -> None:
    """A good answer that drips for two seconds: given up, not kept, and no thread is left at it."""
    server.script["/weather"] = reply_json(RAIN)._replace(fault="drip")
    with Outside(tmp_path, AGENT, patience_s=PATIENCE_S) as outside:
        with pytest.raises(WeatherError, match="did not give a whole answer within"):
            ask(outside, server)
        threading.Event().wait(0.3)
        assert [one for one in threading.enumerate() if one.name == ASKING] == []
    with Outside(tmp_path, AGENT, offline=True) as later, pytest.raises(WeatherError) as error:
        ask(later, server)
    assert error.value.kind == "offline"


def test_nothing_is_written_on_the_screen(
    outside: Outside, server: Server, capfd: pytest.CaptureFixture[str]
) -> None:
    """Neither library tells of its retries, nor shows an address."""
    server.script["/weather"] = [outdated(), Reply(503)]
    ask(outside, server)
    assert ask(outside, server).stale
    assert capfd.readouterr() == ("", "")


def test_no_address_stands_in_a_log(outside: Outside, monkeypatch: pytest.MonkeyPatch) -> None:
    """An address holds the garden's place, and perhaps a key; whoever logs everything does not get it."""
    written = io.StringIO()
    everything = logging.StreamHandler(written)
    monkeypatch.setattr(logging.root, "handlers", [*logging.root.handlers, everything])
    monkeypatch.setattr(logging.root, "level", logging.DEBUG)
    logging.getLogger("soakbook.test").warning("heard")
    with pytest.raises(WeatherError):
        outside.get_json(request(refused_address(), apikey="hush"), has_rain, NOW)
    assert written.getvalue() == "heard\n"


def test_nothing_of_a_broken_file_is_left_beside_the_new_one(
    tmp_path: Path, server: Server
) -> None:
    path = tmp_path / "answers.sqlite"
    path.write_bytes(b"no database " * 1000)
    for ending in ("-wal", "-shm", "-journal"):
        path.with_name(path.name + ending).write_bytes(b"left over " * 100)
    with Outside(tmp_path, AGENT) as outside:
        ask(outside, server)
        lying = {each.name for each in tmp_path.iterdir() if b"left over" in each.read_bytes()}
    assert lying == set()
    assert (tmp_path / "answers.sqlite.broken").read_bytes().startswith(b"no database")


def test_a_file_of_many_years_is_begun_anew(
    tmp_path: Path, server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Outside(tmp_path, AGENT) as first:
        ask(first, server)
    monkeypatch.setattr("soakbook.weather.session.kept.BIGGEST_FILE_BYTES", 1000)
    with Outside(tmp_path, AGENT) as second:
        assert ask(second, server, LATER).fetched_at == LATER
        assert second.findings == ()


def test_times_in_any_zone_are_told_in_utc(outside: Outside, server: Server) -> None:
    from zoneinfo import ZoneInfo

    answer = ask(outside, server, NOW.astimezone(ZoneInfo("Asia/Kathmandu")))
    assert answer.fetched_at == NOW
    assert answer.fetched_at.tzinfo == UTC
