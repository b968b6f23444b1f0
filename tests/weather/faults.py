"""Everything that can go wrong between a weather service and the book, as one list of cases.

`python -m tests.weather.faults` plays them against a server on this machine and prints what came of each;
`test_session.py` asserts the same. A new case is one line in `CASES`: for an answer that a parser must refuse,
`Case("what is wrong", on_the_line(reply_json(body), check=the_parsers_check), "rubbish", "words said of it")`.
Faults of the file of answers are in `file_faults.py`, what a service may say wrongly in `reading_faults.py`.
"""

import os
import re
import socket
import sys
import tempfile
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from functools import partial
from pathlib import Path
from time import monotonic
from typing import Any, NamedTuple
from unittest.mock import patch

from soakbook.errors import WeatherError
from soakbook.weather.session import Answer, Outside, Request
from tests.weather.server import CERTIFICATE, Reply, Server, refused_address, reply_json

NOW = datetime(2031, 5, 15, 6, 7, tzinfo=UTC)
LATER = NOW + timedelta(hours=2)
PATIENCE_S = 1.0
SLACK_S = 0.6
"""What a busy machine may take on top: starting a thread, looking into the file."""
AGENT = "soakbook/0.1 https://example.org/soakbook"
HOUR_S = 3600
RAIN = {"hourly": {"rain_mm": [0.0, 1.2]}}

PROXIES = [name for name in os.environ if name.lower().endswith("_proxy")]


class Came(NamedTuple):
    """What came of a case."""

    kind: str  # of the WeatherError; empty for an answer
    say: str
    old_kept: bool | None  # None where there was none
    seconds: float
    wrong: tuple[str, ...] = ()  # beside what the case expects


class Case(NamedTuple):
    """A fault, how it is played in an empty folder, and what is to come of it."""

    fault: str
    play: Callable[[Path], Came]
    kind: str
    says: str  # a regular expression
    old_kept: bool | None = True
    most_s: float = PATIENCE_S + SLACK_S


def has_rain(body: Any) -> Any:
    """The body as it is, checked as parsers check one."""
    if not body["hourly"]["rain_mm"]:
        raise ValueError("no rain in it")
    return body


def outdated(hours: float = 1, **more: str) -> Reply:
    """A good answer that is past its lifetime as soon as it has come."""
    expires = format_datetime(datetime.now(UTC) - timedelta(hours=hours), usegmt=True)
    return reply_json(RAIN, 200, expires=expires, **more)


def request(url: str, **more: str) -> Request:
    """What the cases ask."""
    return Request("Skywatch", url, {"latitude": "51.88", "longitude": "-2.26"} | more, HOUR_S)


def on_the_line(
    reply: Reply, *, check: Callable[[Any], Any] = has_rain, stands_in: bool = True
) -> Callable[[Path], Came]:
    """Play a bad answer twice: with no older one, and with one that stands in (or does not)."""

    def play(folder: Path) -> Came:
        with Server() as server:
            server.script["/weather"] = [outdated(), reply]
            return compared(folder, server.url(), reply_alone(server, reply), check, stands_in)

    return play


def reply_alone(server: Server, reply: Reply) -> str:
    """Address at which that answer is the only one."""
    server.script["/alone"] = reply
    return server.url("/alone")


def compared(
    folder: Path, url: str, alone: str, check: Callable[[Any], Any], stands_in: bool
) -> Came:
    """What is said without an older answer, and what is given with one; both are to agree."""
    started = monotonic()
    with Outside(folder / "none", AGENT, patience_s=PATIENCE_S) as outside:
        bare = heard(lambda: outside.get_json(request(alone), check, LATER))
    seconds = monotonic() - started
    with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
        first = outside.get_json(request(url), has_rain, NOW)
        started = monotonic()
        second = heard(lambda: outside.get_json(request(url), check, LATER))
        seconds = max(seconds, monotonic() - started)
    wrong = [] if isinstance(bare, WeatherError) else ["without an older answer nothing was said"]
    trouble = second.trouble if isinstance(second, Answer) else second
    if str(trouble) != str(bare):
        wrong.append(f"said otherwise beside an older answer: {trouble}")
    if isinstance(second, Answer) is not stands_in:
        wrong.append("the older answer stood in" if not stands_in else "no older answer stood in")
    if isinstance(second, Answer) and second != first._replace(stale=True, trouble=second.trouble):
        wrong.append(f"another older answer: {second}")
    if not isinstance(bare, WeatherError):
        return Came("", "answered", kept(folder, url), seconds, tuple(wrong))
    return Came(bare.kind, bare.say, kept(folder, url), seconds, tuple(wrong))


def heard(ask: Callable[[], Answer[Any]]) -> Answer[Any] | WeatherError:
    """The answer, or the error of ours; any other is a fault."""
    try:
        return ask()
    except WeatherError as error:
        return error


def kept(folder: Path, url: str) -> bool:
    """Whether the older answer is there for one who stays at home."""
    with Outside(folder, AGENT, offline=True) as outside:
        found = heard(lambda: outside.get_json(request(url), has_rain, LATER))
    return isinstance(found, Answer) and found.said == RAIN and found.fetched_at == NOW


def good(folder: Path, reply: Reply, *then: Reply) -> Came:
    """An answer that is unusual and good: given, and not as a stale one."""
    with Server() as server, Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
        server.script["/weather"] = [reply, *then]
        answer = outside.get_json(request(server.url()), has_rain, NOW)
        started = monotonic()
        if then:
            answer = outside.get_json(request(server.url()), has_rain, LATER)
        seconds = monotonic() - started
        wrong = () if answer.said == RAIN and not answer.stale else (f"came as {answer}",)
        old_kept = kept(folder, server.url())
    return Came("", f"answered, status {answer.status}", old_kept, seconds, wrong)


def nobody_there(folder: Path) -> Came:
    """The service is gone between two questions."""
    with Server() as server:
        server.script["/weather"] = outdated()
        url = server.url()
        with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
            first = outside.get_json(request(url), has_rain, NOW)
    alone = refused_address()
    started = monotonic()
    with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
        bare = heard(lambda: outside.get_json(request(alone), has_rain, LATER))
        second = heard(lambda: outside.get_json(request(url), has_rain, LATER))
    seconds = (monotonic() - started) / 2
    assert isinstance(bare, WeatherError)
    stood_in = isinstance(second, Answer) and second.stale and second.said == first.said
    wrong = () if stood_in else (f"no older answer stood in: {second}",)
    return Came(bare.kind, bare.say, kept(folder, url), seconds, wrong)


def no_such_name(folder: Path) -> Came:
    """A name that nobody has (RFC 6761, section 6.4)."""
    ask = request("https://weather.invalid/v1")
    started = monotonic()
    with (
        patch("socket.getaddrinfo", side_effect=socket.gaierror(-2, "Name or service not known")),
        Outside(folder, AGENT, patience_s=PATIENCE_S) as outside,
    ):
        bare = heard(lambda: outside.get_json(ask, has_rain, LATER))
    assert isinstance(bare, WeatherError)
    return Came(bare.kind, bare.say, None, monotonic() - started)


def turned_to_http(folder: Path) -> Came:
    """From https to http: what is asked would be read by everybody on the way."""
    with (
        Server(secure=True) as server,
        Server() as plain,
        patch.dict(os.environ, {"REQUESTS_CA_BUNDLE": str(CERTIFICATE)}),
    ):
        plain.script["/weather"] = reply_json(RAIN)
        away = Reply(302, headers={"Location": plain.url()})
        server.script["/weather"] = [outdated(), away]
        came = compared(folder, server.url(), reply_alone(server, away), has_rain, stands_in=True)
        return came._replace(wrong=came.wrong + (("it went there",) if plain.seen else ()))


def false_certificate(folder: Path) -> Came:
    """Somebody on the way who is not the service."""
    with Server(secure=True) as server:
        server.script["/weather"] = outdated()
        with (
            patch.dict(os.environ, {"REQUESTS_CA_BUNDLE": str(CERTIFICATE)}),
            Outside(folder, AGENT, patience_s=PATIENCE_S) as outside,
        ):
            outside.get_json(request(server.url()), has_rain, NOW)
        started = monotonic()
        with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
            answer = heard(lambda: outside.get_json(request(server.url()), has_rain, LATER))
        seconds = monotonic() - started
        assert isinstance(answer, Answer)
        assert answer.trouble is not None
        return Came(answer.trouble.kind, answer.trouble.say, kept(folder, server.url()), seconds)


def at_home(folder: Path, *, held: bool) -> Came:
    """Offline, with and without an older answer."""
    with Server() as server:
        server.script["/weather"] = outdated()
        if held:
            with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
                outside.get_json(request(server.url()), has_rain, NOW)
        before = len(server.seen)
        started = monotonic()
        with Outside(folder, AGENT, offline=True, patience_s=PATIENCE_S) as outside:
            found = heard(lambda: outside.get_json(request(server.url()), has_rain, LATER))
        seconds = monotonic() - started
        trouble = found.trouble if isinstance(found, Answer) else found
        assert trouble is not None
        wrong = [] if isinstance(found, Answer) is held else [f"came as {found}"]
        wrong += ["the service was asked"] if len(server.seen) > before else []
        old_kept = kept(folder, server.url()) if held else None
    return Came(trouble.kind, trouble.say, old_kept, seconds, tuple(wrong))


def _status(status: int, reason: str = "", **headers: str) -> Callable[[Path], Came]:
    body = {"error": True, "reason": reason} if reason else {}
    wrongly = status in (400, 404, 422)
    return on_the_line(reply_json(body, status, **headers), stands_in=not wrongly)


_PAGE = Reply(400, b"<html><body>Bad coordinates</body></html>", "text/html")
_JSON = reply_json(RAIN)
_AT_FIVE = "Thu, 15 May 2031 05:00:00 GMT"
_AT_NINE = "Thu, 15 May 2031 09:00:00 GMT"

CASES: list[Case] = [
    Case("400 with a reason", _status(400, "Invalid timezone"), "refused", r"status 400: Invalid t"),
    Case("400 as a page", on_the_line(_PAGE, stands_in=False), "refused", r"asked \(status 400\)$"),
    Case("403", _status(403), "refused", r"will not answer us \(status 403\)"),
    Case("404", _status(404), "refused", r"has nothing there"),
    Case("422", _status(422), "refused", r"refuses what it was asked \(status 422\)"),
    Case("429, Retry-After in seconds", _status(429, retry_after="90"), "busy", r"asks us to wait \(status 429\)"),
    Case("429, Retry-After as a date", _status(429, retry_after=_AT_NINE), "busy", "us to wait"),
    Case("429, Retry-After malformed", _status(429, retry_after="soon; -1"), "busy", "patience"),
    Case("429, a word in the reason", _status(429, "try again tomorrow."), "busy", "tomorrow"),
    Case("429, nothing said", _status(429), "busy", r"asks for patience"),
    Case("500", _status(500), "down", r"fault of its own \(status 500\)"),
    Case("503 with a reason", _status(503, "overloaded"), "down", r"status 503: overloaded"),
    Case("302 without end", on_the_line(Reply(302, headers={"Location": ""})), "down", "sends us on"),
    Case("418", on_the_line(Reply(418)), "refused", "will not answer us"),
    Case("hang", on_the_line(Reply(fault="hang")), "down", f"within {PATIENCE_S:g} s"),
    Case("drip", on_the_line(_JSON._replace(body=b"1" * 999, fault="drip")), "down", f"within {PATIENCE_S:g} s"),
    Case("drip of headers", on_the_line(Reply(fault="drip headers")), "down", f"within {PATIENCE_S:g} s"),
    Case("cut off", on_the_line(_JSON._replace(fault="cut off")), "down", "broke off in the middle"),
    Case("chunk cut off", on_the_line(_JSON._replace(fault="broken chunk")), "down", "broke off|cut"),
    Case("reset", on_the_line(Reply(fault="reset")), "down", "cut the line"),
    Case("nobody listens", nobody_there, "down", "nobody answers at its address"),
    Case("no such name", no_such_name, "down", "cannot be found", None),
    Case("false certificate", false_certificate, "down", "cannot prove who it is"),
    Case("redirect to http", turned_to_http, "down", r"on to http://127\.0\.0\.1, which is not"),
    Case("204", on_the_line(Reply(204)), "rubbish", r"no weather \(status 204\)"),
    Case("200, JSON without rain", on_the_line(reply_json({"hourly": {"rain_mm": []}})), "rubbish",
         "cannot be right: no rain in it"),
    Case("200, another form", on_the_line(reply_json([1, 2])), "rubbish", "of another form"),
    Case("200, JSON broken off", on_the_line(Reply(200, b'{"a":[1, Unexpected')), "rubbish", "JSON"),
    Case("200, NaN", on_the_line(Reply(200, b'{"hourly":{"rain_mm":[NaN]}}')), "rubbish", "JSON"),
    Case("200, JSON too deep", on_the_line(Reply(200, b"[" * 200_000)), "rubbish", "JSON"),
    Case("200, empty", on_the_line(Reply(200, b"")), "rubbish", "JSON"),
    Case("wrong content type", on_the_line(_JSON._replace(kind="text/csv")), "rubbish",
         "sent text/csv instead of JSON"),
    Case("no content type", on_the_line(_JSON._replace(kind="")), "rubbish", "without a type"),
    Case("page where JSON is due", on_the_line(Reply(200, b"<html>", "text/html")), "rubbish", "page"),
    Case("page that says it is JSON", on_the_line(Reply(200, b" <!DOCTYPE")), "rubbish", "web page"),
    Case("not packed as it says", on_the_line(_JSON._replace(headers={"Content-Encoding": "gzip"})),
         "rubbish", "cannot be unpacked"),
    Case("21 MB", on_the_line(Reply(200, b" " * 21_000_000)), "rubbish", "more than 20 MB"),
    Case("203", partial(good, reply=_JSON._replace(status=203)), "", "status 203"),
    Case("304 with Last-Modified",
         lambda folder: good(folder, outdated(last_modified=_AT_FIVE), Reply(304)), "", "200"),
    Case("Expires that is no date", partial(good, reply=reply_json(RAIN, expires="soon")), "", "200"),
    Case("offline, an answer held", partial(at_home, held=True), "offline", "not asked"),
    Case("offline, nothing held", partial(at_home, held=False), "offline", "no answer of it is kept", None),
]  # fmt: skip


def faults_of(case: Case, came: Came) -> list[str]:
    """In what it came otherwise than it should."""
    wrong = list(came.wrong)
    if came.kind != case.kind:
        wrong.append(f"{came.kind or 'an answer'} instead of {case.kind or 'an answer'}")
    if not re.search(case.says, came.say):
        wrong.append(f"said {came.say!r} without {case.says!r}")
    if came.old_kept is not case.old_kept:
        wrong.append(f"older answer kept: {came.old_kept}")
    if came.seconds > case.most_s:
        wrong.append(f"took {came.seconds:.2f} s")
    return wrong


@contextmanager
def no_proxies() -> Iterator[None]:
    """Asking as if nobody had set a proxy."""
    with patch.dict(os.environ):
        for name in PROXIES:
            del os.environ[name]
        yield


def main() -> int:
    """Play all and print one table; exit status 1 if anything came otherwise than it should."""
    from tests.weather.file_faults import FILE_CASES
    from tests.weather.reading_faults import READING_CASES

    groups = {"on the line": CASES, "the file of answers": FILE_CASES, **READING_CASES}
    print(f"{'fault':<34} {'what came':<9} {'old kept':<8} {'s':>5}  what came or is said")
    right = 0
    for title, cases in groups.items():
        print(f"\n{title}")
        right += sum([_printed(case) for case in cases])
    count = sum(len(cases) for cases in groups.values())
    print(f"\n{right} of {count} as they should be")
    return int(right < count)


def _printed(case: Case) -> bool:
    """Play a case and print its line; whether it came as it should."""
    with tempfile.TemporaryDirectory() as folder, no_proxies():
        came = case.play(Path(folder))
    wrong = faults_of(case, came)
    old = {True: "yes", False: "no", None: "-"}[came.old_kept]
    said = textwrap.shorten(came.say.replace(folder, "…"), 130, placeholder=" …")
    print(f"{case.fault:<34} {came.kind or 'answer':<9} {old:<8} {came.seconds:5.2f}  {said}")
    for each in wrong:
        print(f"{'':<34} WRONG: {each}")
    return not wrong


if __name__ == "__main__":
    sys.exit(main())
