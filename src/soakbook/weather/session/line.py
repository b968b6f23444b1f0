"""The line itself: turnings followed, bodies read whole but not for ever, and what goes wrong in words."""

import threading
from collections.abc import Callable
from concurrent.futures import Future
from email.utils import parsedate_to_datetime
from time import monotonic
from typing import TYPE_CHECKING, Any, TypeVar
from urllib.parse import urljoin, urlsplit

from soakbook.errors import WeatherError
from soakbook.weather.refusals import QuestionError

if TYPE_CHECKING:
    from requests import PreparedRequest, Response
    from requests.adapters import HTTPAdapter
    from urllib3.response import BaseHTTPResponse

BIGGEST_BODY_BYTES = 20_000_000
MOST_TURNINGS = 5
ASKING = "asking the weather"  # name of the threads
REPEATED = (500, 502, 503, 504)  # 429 and 403 want to be left alone
PAUSE_S = 0.5  # before the second repetition, doubled and drawn out by chance; a fortieth of the patience at most

_Outcome = TypeVar("_Outcome")


class _TurningError(Exception):
    """A turning to where nobody goes; its text is the place, without what was asked there."""


class _SizeError(Exception):
    """A body over the limit."""


def in_time(work: Callable[[], _Outcome], ends_at: float) -> _Outcome:
    """What the work comes to, done by a thread that is left to itself when the time is up (a TimeoutError)."""
    outcome: Future[_Outcome] = Future()

    def run() -> None:
        try:
            outcome.set_result(work())
        except BaseException as fault:
            outcome.set_exception(fault)

    threading.Thread(target=run, name=ASKING, daemon=True).start()
    return outcome.result(timeout=max(0.0, ends_at - monotonic()))


def door(patience_s: float) -> "HTTPAdapter":
    """Adapter of a session: repeats what a service's own fault spoiled, follows turnings, reads whole bodies.

    Turnings are followed here and not by the session, whose cache would keep their addresses on disk.
    """
    from requests.adapters import HTTPAdapter
    from urllib3 import Retry

    class Door(HTTPAdapter):
        def send(self, request: "PreparedRequest", *args: Any, **kwargs: Any) -> "Response":
            ends_at = monotonic() + patience_s
            asked = request.copy()
            asked.headers.pop("Cache-Control", None)  # a word between session and cache
            for _ in range(MOST_TURNINGS + 1):
                response = super().send(asked, *args, **kwargs)
                if not response.is_redirect:
                    break
                response.close()
                asked = _next(asked, response.headers["Location"])
            else:
                raise _TurningError("one address after another")
            response.request, response.url = request, request.url or ""
            _tidy(response)
            # As Response.content would, but within time and measure.
            response._content = _whole(response.raw, ends_at)
            response._content_consumed = True  # type: ignore[attr-defined]
            return response

    pause_s = min(PAUSE_S, patience_s / 40)
    return Door(
        max_retries=Retry(
            total=2,
            connect=1,
            read=0,
            other=0,
            allowed_methods=["GET"],
            status_forcelist=REPEATED,
            backoff_factor=pause_s,
            backoff_jitter=pause_s,
            raise_on_status=False,
            respect_retry_after_header=False,
        )
    )


def network_trouble(service: str, fault: Exception, patience_s: float) -> Exception:
    """What went wrong on the line, in words; a fault that is none of the line's comes back as it is."""
    from requests import exceptions as of_requests
    from urllib3 import exceptions as of_urllib3

    if isinstance(
        fault, of_requests.InvalidURL | of_requests.MissingSchema | of_requests.InvalidSchema
    ):
        return QuestionError(
            service, "refused", "has an address that cannot be right: https://... would be"
        )
    if isinstance(fault, _SizeError):
        most = BIGGEST_BODY_BYTES // 1_000_000
        return WeatherError(service, "rubbish", f"sent more than {most} MB")
    if isinstance(fault, of_urllib3.DecodeError | of_requests.ContentDecodingError):
        return WeatherError(service, "rubbish", "sent something that cannot be unpacked")
    causes = _causes(fault)
    for kind, say in (
        (_TurningError, f"sends us on to {fault}, which is not followed"),
        (of_urllib3.NameResolutionError, "cannot be found: is there a way to the internet?"),
        # urllib3 counts it among its timeouts, which stand below.
        (of_urllib3.NewConnectionError, "cannot be reached: nobody answers at its address"),
        (
            (of_requests.SSLError, of_urllib3.SSLError),
            "cannot prove who it is: its certificate does not hold",
        ),
        (of_urllib3.ProxyError, "cannot be reached through the proxy that is set"),
        (
            (TimeoutError, of_requests.Timeout, of_urllib3.TimeoutError),
            f"did not give a whole answer within {patience_s:g} s",
        ),
        (of_urllib3.IncompleteRead, "broke off in the middle of its answer"),
        ((of_urllib3.ProtocolError, ConnectionError), "cut the line before its answer was whole"),
        ((of_requests.RequestException, of_urllib3.HTTPError, OSError), "cannot be reached"),
    ):
        if any(isinstance(cause, kind) for cause in causes):
            return WeatherError(service, "down", say)
    return fault


def _next(asked: "PreparedRequest", location: str) -> "PreparedRequest":
    """Where a turning leads, if it stays as secret as it was."""
    old = urlsplit(asked.url or "")
    new = urlsplit(urljoin(asked.url or "", location))
    if new.scheme not in ("https", old.scheme):
        raise _TurningError(f"{new.scheme}://{new.hostname or ''}")
    onward = asked.copy()
    onward.prepare_url(new.geturl(), None)
    if new.netloc != old.netloc:
        onward.headers.pop("Authorization", None)
    return onward


def _tidy(response: "Response") -> None:
    """Forget an Expires that is no date, at which the cache would stumble; our own lifetime holds."""
    expires = response.headers.get("Expires", "")
    try:
        if expires and not expires.lstrip("-").isdigit():
            parsedate_to_datetime(expires)
    except (ValueError, TypeError, IndexError, OverflowError):
        del response.headers["Expires"]


def _whole(raw: "BaseHTTPResponse", ends_at: float) -> bytes:
    """Whole body, unpacked; each piece as it comes, for a limit of time counts from the first question."""
    pieces, size = [], 0
    try:
        while True:
            piece = raw.read1(1 << 16, decode_content=True)
            if monotonic() > ends_at:  # nobody waits any longer, and nothing is to be kept
                raise TimeoutError
            if not piece:
                break
            pieces.append(piece)
            size += len(piece)
            if size > BIGGEST_BODY_BYTES:
                raise _SizeError
    except BaseException:
        raw.close()
        raise
    raw.release_conn()
    return b"".join(pieces)


def _causes(fault: BaseException) -> list[BaseException]:
    """A fault and those it wraps: requests and urllib3 hold them as `reason` or as an argument."""
    found = [fault]
    for one in found:  # grows as wrappers are opened
        within = (getattr(one, "reason", None), *one.args)
        found += [part for part in within if isinstance(part, BaseException) and part not in found]
    return found
