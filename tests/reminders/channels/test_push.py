"""Push by Apprise through a real endpoint; and that no word of an address gets out."""

import json
import sys
import threading
from time import monotonic

import pytest

from soakbook.errors import InputError
from soakbook.reminders.channels.patience import in_time
from soakbook.reminders.channels.push import check_push_url, send_push, shown_push
from soakbook.reminders.message import Outcome
from tests.reminders.channels.hooks import open_hook
from tests.reminders.channels.test_mail import MESSAGE
from tests.reminders.secrets import TOKEN, gives_away

pytestmark = pytest.mark.filterwarnings("ignore:'imghdr' is deprecated:DeprecationWarning")
"""Apprise loads all its services at once, one of them an old module of Python's."""

PATH = f"/{TOKEN}/hook?-key={TOKEN}"


def test_what_arrives_is_what_was_sent_and_its_sign() -> None:
    with open_hook(200) as hook:
        assert send_push(MESSAGE, hook.address(PATH), timeout_s=5) == Outcome(
            "sent", "JSON took it"
        )
    ((_, path, body),) = hook.got
    assert path == f"/{TOKEN}/hook?key={TOKEN}"
    said = json.loads(body)
    assert said["title"] == MESSAGE.title
    assert said["message"] == f"{MESSAGE.body} [3f2a9c41]"


@pytest.mark.parametrize(
    ("status", "outcome"),
    [
        (204, Outcome("sent", "JSON took it")),
        (401, Outcome("refused", "JSON: 401 Unauthorized")),
        (404, Outcome("refused", "JSON: 404 Not Found")),
        (429, Outcome("later", "JSON: 429 Too Many Requests")),
        (500, Outcome("later", "JSON: 500 Internal Server Error")),
        (599, Outcome("later", "JSON: 599")),
    ],
)
def test_a_status_is_for_good_or_for_now(status: int, outcome: Outcome) -> None:
    with open_hook(status) as hook:
        assert send_push(MESSAGE, hook.address(PATH), timeout_s=5) == outcome
    assert len(hook.got) == 1


@pytest.mark.parametrize("asked", ["", "?optional=yes&retry=3&wait=0&redirect=yes"])
def test_an_address_cannot_talk_us_into_a_yes(asked: str) -> None:
    """Its own words would have a failure called a success, tried again at once, or a turning followed without the
    message, which the other end answers with yes."""
    with open_hook(200) as elsewhere:
        with open_hook(302, elsewhere.address().replace("json", "http", 1)) as hook:
            outcome = send_push(MESSAGE, hook.address(f"/{TOKEN}{asked}"), timeout_s=5)
        assert outcome == Outcome("refused", "JSON: 302 Found")
        assert (len(hook.got), elsewhere.got) == (1, [])
    with open_hook(500) as hook:
        outcome = send_push(MESSAGE, hook.address(f"/{TOKEN}{asked}"), timeout_s=5)
    assert outcome.came == "later"
    assert len(hook.got) == 1


@pytest.mark.parametrize(("status", "drips"), [(None, False), (200, True)])
def test_an_end_that_hangs_or_drips_is_given_up(status: int | None, drips: bool) -> None:
    """Apprise's own limits are for each wait alone, of at least a second."""
    with open_hook(status, drips=drips) as hook:
        begun = monotonic()
        outcome = send_push(MESSAGE, hook.address(PATH), timeout_s=0.2)
        assert monotonic() - begun < 1
    say = "JSON did not answer within 0.2 s; it may have been taken, and come twice"
    assert outcome == Outcome("later", say)


def test_nobody_there() -> None:
    with open_hook(200) as hook:
        address = hook.address(PATH)
    outcome = send_push(MESSAGE, address, timeout_s=5)
    say = "JSON cannot be reached, or gave no answer that can be read"
    assert outcome == Outcome("later", say)


BAD = [
    TOKEN,
    f"https://example.org/{TOKEN}",
    f"nonsense://{TOKEN}",
    f"tgram://{TOKEN}",
    f"json://example.org/{TOKEN} json://example.org",
    f"json://example.org/{TOKEN}\nX: y",
    "json://",
]


@pytest.mark.parametrize("url", BAD)
def test_a_wrong_address_is_refused_without_its_secret(url: str) -> None:
    with pytest.raises(InputError) as caught:
        check_push_url(url)
    fault = caught.value
    assert fault.field == "push"
    assert fault.value == shown_push(url)
    assert "jsons://HOST/PATH" in fault.right
    outcome = send_push(MESSAGE, url)
    assert outcome == Outcome("later", str(fault))
    assert gives_away((str(fault), fault.args, vars(fault), fault.__context__, outcome)) == []


def test_an_address_missing() -> None:
    with pytest.raises(InputError, match=r"^push is missing: an address"):
        check_push_url("")


@pytest.mark.parametrize(
    "url", [f"jsons://example.org/{TOKEN}", f"ntfy://{TOKEN}", f"gotify://example.org/{TOKEN}"]
)
def test_a_right_address_is_kept_as_it_is(url: str) -> None:
    assert check_push_url(url) == url


@pytest.mark.parametrize(
    ("url", "shown"),
    [
        (f"ntfy://{TOKEN}", "ntfy://..."),
        (f"pover://user@{TOKEN}/?x={TOKEN}", "pover://..."),
        (TOKEN, "..."),
        (f"{TOKEN}://x", "..."),
        (" ", ""),
    ],
)
def test_of_an_address_only_its_kind_is_shown(url: str, shown: str) -> None:
    """What stands before :// is a kind only where it can be one: letters, digits, plus, dot, minus (RFC 3986, 3.1)."""
    assert shown_push(url) == shown


def test_without_apprise_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "apprise", None)
    url = f"json://example.org/{TOKEN}"
    with pytest.raises(InputError, match=r"pip install 'soakbook\[remind\]'") as caught:
        check_push_url(url)
    assert gives_away((caught.value, caught.value.__context__)) == []
    outcome = send_push(MESSAGE, url)
    assert outcome.came == "later"
    assert "pip install 'soakbook[remind]'" in outcome.answer


def test_work_that_fails_in_time_says_so() -> None:
    """A fault of ours is not hidden in a thread."""

    def work() -> Outcome:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        in_time(work, 5, Outcome("later", "late"))


def test_work_that_is_cut_off_says_how_far_it_got() -> None:
    ended = threading.Event()

    def work() -> Outcome:
        ended.wait(5)
        return Outcome("sent", "just so")

    assert in_time(work, 0.05, Outcome("later", "late"), ended.set) == Outcome("sent", "just so")
