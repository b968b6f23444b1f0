"""`person NAME --mail`, `--push`, `--head`: the book has who, a file of one's own has where, and a test goes there."""

import json
import shutil
from pathlib import Path

import pytest

from soakbook.reminders.addresses import addresses_file, keep_server, read_addresses
from soakbook.reminders.ways import Reached
from tests.cli.commands.conftest import Go
from tests.cli.test_schemas import validate
from tests.cli.words import amiss
from tests.reminders.channels.hooks import open_hook
from tests.reminders.channels.mail_servers import Office, running
from tests.reminders.secrets import TOKEN, gives_away
from tests.services.looking import look_at, pages_of

pytestmark = pytest.mark.filterwarnings("ignore:'imghdr' is deprecated:DeprecationWarning")

JO = "jo@example.org"


def served_at(port: int) -> None:
    """The server on this machine takes our mail."""
    keep_server(f"127.0.0.1:{port}", security="none", sender="garden@example.org")


def names(book: Path) -> list[str]:
    return [one.name for one in pages_of(book).people]


@pytest.mark.parametrize("name", ["Jo", "Ann"])
def test_somebody_new_or_known_gets_an_address_and_a_test(go: Go, abbey: Path, name: str) -> None:
    office = Office()
    with running(office, "none", None) as port:
        served_at(port)
        ran = go("person", name, "--mail", JO)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.endswith(f"A test went to {name} by mail.\n")
    assert amiss(ran.out) == []
    assert [one.rcpt_tos for one in office.taken] == [[JO]]
    assert read_addresses().people == {name: Reached(JO)}
    assert name in names(abbey)
    assert JO.encode() not in abbey.read_bytes()


def test_a_test_that_fails_is_status_3_and_the_address_stays(go: Go, abbey: Path) -> None:
    with running(Office(recipient="550 nobody here"), "none", None) as port:
        served_at(port)
        ran = go("person", "Jo", "--mail", JO)
    assert (ran.status, ran.err) == (3, "")
    assert "The test did not reach Jo by mail: " in ran.out
    assert ran.out.endswith("The address is kept. To try again: soakbook remind --test Jo\n")
    assert read_addresses().people == {"Jo": Reached(JO)}
    assert "Jo" in names(abbey)


@pytest.mark.parametrize(
    ("words", "piped", "said"),
    [
        (["--mail", "jo at home"], "", "mail: 'jo at home' cannot be right; an address like ann@"),
        (["--mail", f"Jo <{JO}>"], "", "mail: "),
        (["--mail", f"{JO},ann@example.org"], "", "mail: "),
        (["--push", "nonsense"], "", "push: '...' cannot be right; an address of Apprise's"),
        (["--push", f"xyz://{TOKEN}"], "", "push: 'xyz://...' cannot be right"),
        (["--push", "-"], f"xyz://{TOKEN}\n", "push: 'xyz://...' cannot be right"),
        (["--push", "-"], "", "push is missing: a line of text on standard input"),
        (["--push", "-"], "\n", "push is missing: a line of text on standard input"),
        (["--mail", JO, "--hours", "soon"], "", "hours: 'soon' cannot be right"),
    ],
)
def test_what_is_refused_changes_neither_book_nor_file(
    go: Go, abbey: Path, words: list[str], piped: str, said: str
) -> None:
    served_at(1)
    before, file = look_at(abbey), addresses_file().read_bytes()
    for name in ("Jo", "Ann"):
        ran = go("person", name, *words, piped=piped)
        assert (ran.status, ran.out) == (2, "")
        assert said in ran.err
        assert gives_away(ran) == []
    assert look_at(abbey) == before
    assert addresses_file().read_bytes() == file


def test_a_push_address_is_asked_for_unseen(go: Go, abbey: Path) -> None:
    with open_hook(200) as hook:
        address = hook.address(f"/{TOKEN}")
        ran = go("person", "Ann", "--push", "-", piped=f"{address}\n")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.endswith("A test went to Ann by push.\n")
    assert read_addresses().people["Ann"].push == address
    assert gives_away(ran) == []
    assert TOKEN.encode() not in abbey.read_bytes()


def test_an_empty_address_takes_it_away_without_a_test(go: Go) -> None:
    with running(Office(), "none", None) as port:
        served_at(port)
        go("person", "Ann", "--mail", JO)
    ran = go("person", "Ann", "--mail", "")
    assert ran.status == 0
    assert ran.out.endswith("Ann is not reached by mail.\n")
    assert read_addresses().people == {}


def test_an_empty_line_for_a_push_does_not_take_it_away(go: Go) -> None:
    with open_hook(200) as hook:
        address = hook.address("/x")
        go("person", "Ann", "--push", address)
    assert go("person", "Ann", "--push", "-", piped="").status == 2
    assert read_addresses().people["Ann"].push == address


def test_the_head_is_said_and_kept(go: Go, abbey: Path) -> None:
    ran = go("person", "Zoe", "--head")
    assert "Zoe is told what concerns the whole garden.\n" in ran.out
    assert pages_of(abbey).garden.head == "Zoe"
    assert "Zoe, the head: nowhere yet." in go("remind", "settings").out
    assert "head from none to Zoe" in go("book", "log").out


def test_for_machines_the_test_stands_in_what_is_said(go: Go) -> None:
    with running(Office(), "none", None) as port:
        served_at(port)
        report = json.loads(go("person", "Ann", "--mail", JO, "--json").out)
    validate(report, "told")
    assert report["say"][-1] == "A test went to Ann by mail."
    assert JO not in json.dumps(report)


def test_two_gardens_share_the_file_by_name(go: Go, abbey: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.book"
    shutil.copyfile(abbey, other)
    with running(Office(), "none", None) as port:
        served_at(port)
        go("person", "Ann", "--mail", JO)
        go("person", "Jo", "--mail", "other@example.org", "--book", str(other))
        here, there = go("remind", "--test"), go("remind", "--test", "--book", str(other))
    assert here.out == "A test went to Ann by mail.\n"
    assert there.out == "A test went to Ann by mail.\nA test went to Jo by mail.\n"
    assert set(read_addresses().people) == {"Ann", "Jo"}


def test_a_file_that_cannot_be_right_is_told_before_the_book_is_touched(
    go: Go, abbey: Path
) -> None:
    path = addresses_file()
    path.parent.mkdir(parents=True)
    path.write_text("[people.Ann]\nphone = '1'\n", encoding="utf-8")
    path.chmod(0o600)
    before = look_at(abbey)
    ran = go("person", "Jo", "--mail", JO)
    assert (ran.status, ran.out) == (2, "")
    assert "'phone' cannot be right; one of mail, push" in ran.err
    assert look_at(abbey) == before
