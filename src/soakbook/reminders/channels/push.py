"""Push: one reminder sent to one address of Apprise, a service's own or a webhook's (`json://`, `jsons://`).

Such an address is a secret from end to end: of it only what stands before `://` is ever shown. Apprise's own words
hold parts of it, so none of them is kept: an answer is made of the service's name and the status it gave.

`refused` is a status of the 300s and 400s, but for those that ask for patience: the address leads nowhere, or
nobody may send there. All else is `later`. Apprise says no more than yes or no: where an address names several devices
and one of them fails, all get the reminder again, and know it by the same sign at its end.
"""

import logging
import re
from functools import partial
from http import HTTPStatus
from typing import TYPE_CHECKING

from soakbook.errors import InputError
from soakbook.reminders.channels.patience import in_time
from soakbook.reminders.channels.wording import HIDDEN, in_a_line
from soakbook.reminders.message import Came, Message, Outcome

if TYPE_CHECKING:
    from apprise import Apprise

PATIENCE_S = 30.0
"""For the whole of a sending. [s]"""

NOT_INSTALLED = (
    "Apprise, which sends push messages, is not installed: pip install 'soakbook[remind]'"
)
RIGHT = "an address of Apprise's: jsons://HOST/PATH for a webhook at https://HOST/PATH, ntfy://TOPIC and the like"
PATIENT = (408, 425, 429)
"""Statuses of the 400s that may be another next time: RFC 9110, section 15.5.9; RFC 8470; RFC 6585, section 4."""

_SCHEME = re.compile(r"[a-z][a-z0-9+.-]{0,30}(?=://)", re.IGNORECASE)
_STATUS = re.compile(r"\berror=(\d{3})\b")


def send_push(message: Message, url: str, *, timeout_s: float = PATIENCE_S) -> Outcome:
    """What came of pushing a message; whatever goes wrong is an outcome, no error.

    Parameters
    ----------
    message : Message
        What is sent; the first letters of its identifier stand at its end.
    url : str
        An address of Apprise's.
    timeout_s : float
        When it is given up, counted over everything [s, above 0]; what is under way then may still arrive.
    """
    try:
        post = _post(url)
    except InputError as fault:
        return Outcome("later", in_a_line(str(fault)))
    name = in_a_line(str(next(iter(post)).service_name))
    late = Outcome(
        "later",
        f"{name} did not answer within {timeout_s:g} s; it may have been taken, and come twice",
    )
    body = f"{message.body.rstrip()} [{message.identifier[:8]}]"
    return in_time(partial(_push, post, name, message.title, body), timeout_s, late)


def check_push_url(url: str, field: str = "push") -> str:
    """The address, if Apprise knows how to send there; nothing is asked of anybody.

    Parameters
    ----------
    url : str
        As typed.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        No address of Apprise's, or there is no Apprise; shows no more than `shown_push` does.
    """
    _post(url, field)
    return url


def shown_push(url: str) -> str:
    """A push address as it may be shown: the kind of service, dots for the rest."""
    if not url.strip():
        return ""
    kind = _SCHEME.match(url)
    return f"{kind[0]}://{HIDDEN}" if kind else HIDDEN


def _post(url: str, field: str = "push") -> "Apprise":
    """One service of Apprise's, which sends once, follows no turnings, writes nothing down and says nothing aloud."""
    try:
        from apprise import Apprise, AppriseAsset
    except ImportError:
        raise InputError(field, shown_push(url), NOT_INSTALLED) from None
    _hush()
    # A turning is followed with the message left behind, and answered with yes. Time is ours to measure: Apprise's
    # threads would hold up the end of the program.
    asset = AppriseAsset(http_redirects=False, service_timeout=0)
    is_one = url.isprintable() and " " not in url
    service = Apprise.instantiate(url, asset=asset) if is_one else None
    if service is None:
        raise InputError(field, shown_push(url), RIGHT)
    # Words of the address itself: to call a failure a success, to try again behind our back, to follow turnings.
    service.optional, service.retry, service.redirects = False, 0, False
    post = Apprise(asset=asset)
    post.add(service)
    return post


def _push(post: "Apprise", name: str, title: str, body: str) -> Outcome:
    result = post.notify(body=body, title=in_a_line(title), body_format="text")
    if result:
        return Outcome("sent", f"{name} took it")
    found = [int(one) for entry in result.logs() for one in _STATUS.findall(entry.message)]
    if not found:
        return Outcome("later", f"{name} cannot be reached, or gave no answer that can be read")
    status = found[-1]
    came: Came = "refused" if 300 <= status < 500 and status not in PATIENT else "later"
    phrase = f" {HTTPStatus(status).phrase}" if status in set(HTTPStatus) else ""
    return Outcome(came, f"{name}: {status}{phrase}")


def _hush() -> None:
    """Keep Apprise, and what it sends by, from writing addresses on the screen or into a log."""
    for name in ("apprise", "urllib3", "requests"):
        logger = logging.getLogger(name)
        if not any(isinstance(one, logging.NullHandler) for one in logger.handlers):
            logger.addHandler(logging.NullHandler())
        logger.propagate = False
