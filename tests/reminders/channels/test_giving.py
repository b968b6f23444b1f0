"""Which way a message takes, and what is said where there is none."""

import pytest

from soakbook.garden.reminding import Channel
from soakbook.reminders.channels.giving import give
from soakbook.reminders.ways import Addresses, MailServer, Reached
from tests.reminders.channels.hooks import open_hook
from tests.reminders.channels.mail_servers import Office, reached_at, running
from tests.reminders.channels.test_mail import ANN, MESSAGE
from tests.reminders.secrets import TOKEN

pytestmark = pytest.mark.filterwarnings("ignore:'imghdr' is deprecated:DeprecationWarning")


@pytest.mark.parametrize(
    ("mail", "push", "wanted", "taken"),
    [
        (True, True, None, "mail"),
        (True, True, "mail", "mail"),
        (True, True, "push", "push"),
        (False, True, None, "push"),
        (True, False, None, "mail"),
    ],
)
def test_the_way_that_is_wanted_or_the_first(
    mail: bool, push: bool, wanted: Channel | None, taken: Channel
) -> None:
    office = Office()
    with open_hook(200) as hook, running(office, "none", None) as port:
        ann = Reached(ANN if mail else "", hook.address(f"/{TOKEN}") if push else "")
        addresses = Addresses(reached_at(port), {"Ann": ann, "Tom": Reached("tom@example.org")})
        channel, outcome = give(MESSAGE, wanted, addresses)
    assert (channel, outcome.came) == (taken, "sent")
    assert (len(office.taken), len(hook.got)) == ((1, 0) if taken == "mail" else (0, 1))


@pytest.mark.parametrize(
    ("reached", "wanted", "say"),
    [
        (None, None, "Ann has no address: soakbook person Ann --mail ann@example.org"),
        (None, "mail", "Ann has no mail address: soakbook person Ann --mail ann@example.org"),
        (
            Reached(ANN),
            "push",
            "Ann has no push address: soakbook person Ann --push jsons://HOST/PATH",
        ),
        (
            Reached("", "ntfy://x"),
            "mail",
            "Ann has no mail address: soakbook person Ann --mail ann@example.org",
        ),
    ],
)
def test_who_cannot_be_reached_is_told_later(
    reached: Reached | None, wanted: Channel | None, say: str
) -> None:
    people = {"Ann": reached} if reached else {}
    server = MailServer("localhost", 1, "none", "soakbook@garden.example")
    channel, outcome = give(MESSAGE, wanted, Addresses(server, people))
    assert channel is None
    assert (outcome.came, outcome.answer) == ("later", say)


def test_a_name_of_two_words_can_be_typed_as_shown() -> None:
    _, outcome = give(MESSAGE._replace(name="Ann Lee"), None, Addresses(None, {}))
    assert "soakbook person 'Ann Lee' --mail" in outcome.answer


def test_without_a_server_mail_waits() -> None:
    channel, outcome = give(MESSAGE, None, Addresses(None, {"Ann": Reached(ANN)}))
    assert (channel, outcome.came) == (None, "later")
    assert "soakbook remind settings --mail-server HOST:PORT" in outcome.answer


def test_without_a_server_who_has_a_push_address_is_told_by_it() -> None:
    with open_hook(200) as hook:
        addresses = Addresses(None, {"Ann": Reached(ANN, hook.address(f"/{TOKEN}"))})
        channel, outcome = give(MESSAGE, None, addresses)
        assert (channel, outcome.came, len(hook.got)) == ("push", "sent", 1)
        assert give(MESSAGE, "mail", addresses)[0] is None
    assert len(hook.got) == 1
