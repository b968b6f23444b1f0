"""One question to a service, and its answer; how it is sent is for `line`, where answers are kept for `kept`."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

from soakbook.errors import WeatherError
from soakbook.weather.refusals import trouble_of_status

if TYPE_CHECKING:
    from requests import Response
    from requests_cache import CachedSession

Said = TypeVar("Said")
"""What was made of a body."""

GOOD = (200, 203)
STANDS_IN_FOR = timedelta(
    days=14
)  # past its lifetime: so long an older answer serves while the service fails

_FETCHED_AT = "X-Soakbook-Fetched-At"  # laid into a kept answer, where a 304 leaves it as it is


class Request(NamedTuple):
    """What a service is asked."""

    service: str  # its name for the gardener
    url: str
    params: Mapping[str, str]  # sent in this order
    lifetime_s: int  # above 0; holds where the answer says nothing of its own


class Answer(NamedTuple, Generic[Said]):
    """What it said, now or when it was last asked."""

    said: Said  # what was made of its body
    fetched_at: datetime  # UTC; when that body came from the service
    stale: bool  # an older answer, because the service failed now
    trouble: WeatherError | None  # how it failed
    status: int  # 203: the service means to shut this address, or to change it
    last_modified: str | None


class Question(Generic[Said]):
    """One request on its way, and what was heard of it; `accepted` is filled before anything is kept."""

    def __init__(
        self, request: Request, read: Callable[[bytes, str], Said], now: datetime, patience_s: float
    ) -> None:
        self.request = request
        self.now = now.astimezone(UTC)
        self.accepted: list[Answer[Said]] = []
        self._read = read
        self._patience_s = patience_s

    def put_to(self, session: "CachedSession") -> Answer[Said]:
        """The answer, from the service or from what is kept within its lifetime."""
        response = self._send(session)
        if response.status_code in GOOD and not self.accepted:
            with suppress(WeatherError):
                return self._answer(response)
            response = self._send(session, force_refresh=True)  # kept by an older program
        if self.accepted:
            return self.accepted[0]
        raise trouble_of_status(
            self.request.service, response.status_code, response.headers, response.content, self.now
        )

    def look_up(self, session: "CachedSession", trouble: WeatherError) -> Answer[Said] | None:
        """The answer that is kept, without asking."""
        allowed = {"Cache-Control": f"stale-if-error={int(STANDS_IN_FOR.total_seconds())}"}
        response = self._send(session, only_if_cached=True, headers=allowed)
        if response.status_code not in GOOD:
            return None
        stale = bool(getattr(response, "is_expired", False))
        return self._answer(response)._replace(stale=stale, trouble=trouble if stale else None)

    def _send(self, session: "CachedSession", **how: Any) -> "Response":
        return session.get(
            self.request.url,
            params=list(self.request.params.items()),
            expire_after=self.request.lifetime_s,
            timeout=self._patience_s,
            hooks={"response": self._hear},
            **how,
        )

    def _hear(self, response: "Response", **_how: Any) -> None:
        """Hook of the session, before anything is kept: a body that cannot be used raises here."""
        if getattr(response, "from_cache", False):
            return
        if response.status_code in GOOD and not self.accepted:  # the session calls twice for each
            response.headers[_FETCHED_AT] = self.now.isoformat()
            self.accepted.append(self._answer(response))

    def _answer(self, response: "Response") -> Answer[Said]:
        headers = response.headers
        try:
            said = self._read(response.content, headers.get("Content-Type", ""))
        except ValueError as fault:
            raise WeatherError(self.request.service, "rubbish", str(fault)) from fault
        fetched_at = datetime.fromisoformat(headers[_FETCHED_AT])
        modified = headers.get("Last-Modified")
        return Answer(said, fetched_at, False, None, response.status_code, modified)
