"""An address written down, and a test message sent there; what is said of it, and where it is not."""

from pathlib import Path

import pytest

from soakbook.errors import InputError
from soakbook.reminders.addresses import addresses_file, keep_person, keep_server, read_addresses
from soakbook.reminders.reaching import check_reach, reach, send_tests
from soakbook.reminders.ways import Reached
from tests.reminders.channels.hooks import open_hook
from tests.reminders.channels.mail_servers import Office, running
from tests.reminders.secrets import TOKEN, gives_away
from tests.services.looking import at

pytestmark = pytest.mark.filterwarnings("ignore:'imghdr' is deprecated:DeprecationWarning")

NOW = at(5, 15, 9)
ANN = "ann@example.org"
AGAIN = "The address is kept. To try again: soakbook remind --test Ann"


def served_at(port: int) -> None:
    """The server on this machine takes our mail."""
    keep_server(f"127.0.0.1:{port}", security="none", sender="garden@example.org")


def test_an_address_is_kept_and_a_test_goes_there(garden: Path) -> None:
    office = Office()
    with running(office, "none", None) as port:
        served_at(port)
        say, well = reach(garden, "ann", NOW, mail=ANN, push=None)
    assert (say, well) == (["A test went to Ann by mail."], True)
    (letter,) = office.taken
    assert letter.rcpt_tos == [ANN]
    content = str(letter.content)
    assert "Subject: Abbey: a test" in content
    assert "So reminders come to Ann. Nothing is due because of it." in content
    assert read_addresses().people == {"Ann": Reached(ANN)}


def test_a_push_is_tested_and_its_address_stays_unsaid(garden: Path) -> None:
    with open_hook(200) as hook:
        address = hook.address(f"/{TOKEN}")
        say, well = reach(garden, "Zoe", NOW, mail=None, push=address)
    assert (say, well) == (["A test went to Zoe by push."], True)
    assert len(hook.got) == 1
    assert read_addresses().people["Zoe"].push == address
    assert gives_away(say) == []


def test_a_test_goes_only_where_an_address_is_new(garden: Path) -> None:
    office = Office()
    with open_hook(200) as hook, running(office, "none", None) as port:
        served_at(port)
        reach(garden, "Ann", NOW, mail=ANN, push=None)
        say, _ = reach(garden, "Ann", NOW, mail=None, push=hook.address("/x"))
        assert say == ["A test went to Ann by push."]
        assert (len(office.taken), len(hook.got)) == (1, 1)
        say, _ = send_tests(garden, NOW, "Ann")
        assert say == ["A test went to Ann by mail.", "A test went to Ann by push."]
        assert (len(office.taken), len(hook.got)) == (2, 2)


def test_a_test_that_does_not_arrive_leaves_the_address(garden: Path) -> None:
    office = Office(recipient="550 no such garden")
    with running(office, "none", None) as port:
        served_at(port)
        say, well = reach(garden, "Ann", NOW, mail=ANN, push=None)
    assert not well
    assert say[0].startswith("The test did not reach Ann by mail: ")
    assert "550 no such garden" in say[0]
    assert say[1:] == [AGAIN]
    assert read_addresses().people == {"Ann": Reached(ANN)}


def test_without_a_server_it_is_said_how_to_name_one(garden: Path) -> None:
    say, well = reach(garden, "Ann", NOW, mail=ANN, push=None)
    assert not well
    assert "soakbook remind settings --mail-server HOST:PORT" in say[0]
    assert "--mail-password -" in say[0]


def test_an_empty_address_takes_away_what_there_was(garden: Path) -> None:
    keep_person("Ann", mail=ANN, push="ntfys://topic")
    say, well = reach(garden, "Ann", NOW, mail="", push=None)
    assert (say, well) == (["Ann is not reached by mail."], True)
    assert read_addresses().people == {"Ann": Reached("", "ntfys://topic")}
    reach(garden, "Ann", NOW, mail=None, push="")
    assert read_addresses().people == {}


def test_of_two_addresses_one_can_go_and_one_come(garden: Path) -> None:
    keep_person("Ann", mail=ANN)
    with open_hook(200) as hook:
        say, well = reach(garden, "Ann", NOW, mail="", push=hook.address("/x"))
    assert (say, well) == (["Ann is not reached by mail.", "A test went to Ann by push."], True)


@pytest.mark.parametrize("name", ["Jo", "annn"])
def test_who_is_not_in_the_book_is_refused(garden: Path, name: str) -> None:
    with pytest.raises(InputError, match="known: Ann, Tom, Zoe") as refused:
        reach(garden, name, NOW, mail=ANN, push=None)
    assert refused.value.value == name
    with pytest.raises(InputError, match="known: Ann, Tom, Zoe"):
        send_tests(garden, NOW, name)
    assert not addresses_file().exists()


def test_somebody_without_an_address_is_refused_with_the_command(garden: Path) -> None:
    with pytest.raises(InputError, match=r"test: 'Tom' .* soakbook person Tom --mail ann@example"):
        send_tests(garden, NOW, "tom")
    with pytest.raises(InputError, match="test is missing: somebody who has an address"):
        send_tests(garden, NOW)


def test_everybody_who_has_an_address_gets_a_test(garden: Path) -> None:
    keep_person("Ann", mail=ANN)
    keep_person("Zoe", mail="zoe@example.org")
    keep_person("Somebody of another garden", mail="jo@example.org")
    office = Office()
    with running(office, "none", None) as port:
        served_at(port)
        say, well = send_tests(garden, NOW)
    assert (say, well) == (["A test went to Ann by mail.", "A test went to Zoe by mail."], True)
    assert [one.rcpt_tos for one in office.taken] == [[ANN], ["zoe@example.org"]]


def test_one_that_fails_keeps_no_other_from_its_test(garden: Path) -> None:
    keep_person("Ann", push="jsons://127.0.0.1:1/x")
    with open_hook(200) as hook:
        keep_person("Zoe", push=hook.address("/x"))
        say, well = send_tests(garden, NOW)
    assert not well
    assert [one.split(":")[0] for one in say] == [
        "The test did not reach Ann by push",
        "A test went to Zoe by push.",
    ]


@pytest.mark.parametrize(
    ("mail", "push", "field"),
    [("ann at home", None, "mail"), (None, "nonsense", "push"), (ANN, f"xyz://{TOKEN}", "push")],
)
def test_what_can_be_no_address_is_refused_unseen(
    mail: str | None, push: str | None, field: str
) -> None:
    with pytest.raises(InputError) as refused:
        check_reach(mail, push)
    assert refused.value.field == field
    assert gives_away(refused.value) == []


def test_a_file_that_cannot_be_right_is_refused_before_anything_is_written() -> None:
    path = addresses_file()
    path.parent.mkdir(parents=True)
    path.write_text("[mail\n", encoding="utf-8")
    path.chmod(0o600)
    with pytest.raises(InputError, match=r"channels\.toml"):
        check_reach(ANN, None)
