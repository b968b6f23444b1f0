"""What stands in the file of addresses: read, written, and refused with a word on where and what would be right."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.reminders.channels_toml import addresses_in, text_of
from soakbook.reminders.ways import Addresses, MailServer, Reached
from tests.reminders.secrets import PASSWORD, TOKEN, USER, gives_away

SERVER = f"""[mail]
host = "mail.example.org"
security = "starttls"
sender = "soakbook@example.org"
user = "garden"
password = "{PASSWORD}"
"""

printing = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=30)


def test_a_file_written_by_hand() -> None:
    """Comments, an order of its own, no port and no ca_file."""
    text = f'# mine\n[people.Ann]\nmail = "ann@example.org" # work\n[people."Tom Lee"]\n{SERVER}'
    assert addresses_in(text, "x") == Addresses(
        MailServer("mail.example.org", 587, "starttls", "soakbook@example.org", "garden", PASSWORD),
        {"Ann": Reached("ann@example.org"), "Tom Lee": Reached()},
    )


@given(
    st.dictionaries(printing, st.builds(Reached, st.just("ann@example.org"), printing), max_size=3),
    st.none()
    | st.builds(
        MailServer,
        st.just("mail.example.org"),
        st.integers(1, 65_535),
        st.sampled_from(["tls", "starttls"]),
        st.just("soakbook@example.org"),
        printing,
        printing,
        st.sampled_from(["", "/etc/home.pem"]),
    ),
)
def test_what_is_written_is_read_again(
    people: dict[str, Reached], server: MailServer | None
) -> None:
    addresses = Addresses(server, people)
    assert addresses_in(text_of(addresses), "x") == addresses


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[mail\n", r"channels.toml: '/the/file' cannot be right; TOML \(.*line 1"),
        (f"password = {PASSWORD}", r"TOML \("),
        ("people = 3", r"channels.toml, people: .* a table"),
        ("[post]", r"channels.toml: 'post' cannot be right; one of mail, people"),
        (f'mail = "{PASSWORD}"', r"channels.toml, mail: '\.\.\.'.* a table: a line \[mail\]"),
        (
            SERVER + f'pasword = "{PASSWORD}"',
            r"channels.toml, mail: 'pasword' .* one of host, port",
        ),
        (SERVER + 'port = "465"', r"mail, port: '465' .* a number from 1 to 65535, without quotes"),
        (SERVER + "port = 0", r"mail, port: 0 "),
        (SERVER + "port = true", r"mail, port: yes "),
        (SERVER + "port = 465.0", r"mail, port: 465 "),
        (SERVER + 'ca_file = "home.pem"', r"mail, ca_file: 'home.pem' .* whole path"),
        (SERVER.replace('"starttls"', '"ssl"'), r"mail, security: 'ssl' .* one of tls, starttls"),
        (SERVER.replace('"starttls"', '"none"'), r"mail, security: 'none' .* on this machine"),
        (SERVER.replace('security = "starttls"\n', ""), r"mail, security is missing: one of tls"),
        (SERVER.replace('host = "mail.example.org"\n', ""), r"mail, host is missing"),
        (SERVER.replace("mail.example.org", "mail example"), r"mail, host: 'mail example'"),
        (
            SERVER.replace("soakbook@example.org", USER + ","),
            r"mail, sender: '\.\.\.' .* like ann@",
        ),
        (
            SERVER.replace('sender = "soakbook@example.org"', ""),
            r"mail, sender is missing: an addr",
        ),
        (SERVER.replace('"garden"', f'"{USER}\\u0000"'), r"mail, user: '\.\.\.' .* letters"),
        (SERVER.replace('"garden"', f'["{USER}"]'), r"mail, user: '\.\.\.' .* text in quotes"),
        (SERVER.replace('user = "garden"\n', ""), r"mail, user is missing: whose password"),
        (SERVER.replace(f'"{PASSWORD}"', "7"), r"mail, password: '\.\.\.' .* text in quotes"),
        (SERVER.replace(f'"{PASSWORD}"', f'["{PASSWORD}"]'), r"mail, password: '\.\.\.'"),
        (SERVER.replace(PASSWORD, ""), r"mail, password is missing: the password of that user"),
        (SERVER.replace(PASSWORD, f"{PASSWORD}\\u0000"), r"mail, password: '\.\.\.' .* letters"),
        (f'[people.Ann]\nmail = "{USER},"', r'people."Ann", mail: \'\.\.\.\' .* like ann@example'),
        (f'[people.Ann]\nmail = ["{USER}"]', r'people."Ann", mail: \'\.\.\.\' .* text in quotes'),
        (f'[people.Ann]\npush = "ntfy://{TOKEN} x"', r'people."Ann", push: \'ntfy://\.\.\.\''),
        (f"[people.Ann]\npush = ['{TOKEN}']", r'people."Ann", push: \'\.\.\.\''),
        (f'[people.Ann]\nphone = "{TOKEN}"', r"people.\"Ann\": 'phone' .* one of mail, push"),
        (f'[people]\nAnn = "{TOKEN}"', r'people."Ann": \'\.\.\.\' .* a table'),
    ],
)
def test_what_cannot_be_right_says_where(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        addresses_in(text, "/the/file")
    told = (str(caught.value), vars(caught.value))
    assert gives_away(told) == []
    assert USER not in f"{told} {told!r}"
