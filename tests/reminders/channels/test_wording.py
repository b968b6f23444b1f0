"""What may be kept of an answer."""

from hypothesis import given
from hypothesis import strategies as st

from soakbook.reminders.channels.wording import LONGEST, in_a_line, without


def test_an_answer_is_a_line_without_secrets() -> None:
    said = "550-no\r\n550 such\tuser <Ann@Example.org>, PassWord  x\x00y"
    secrets = ("ann@example.org", "PassWord x", "")
    assert without(said, secrets) == "550-no 550 such user <...>, ... y"


def test_the_longer_of_two_secrets_goes_first() -> None:
    """Else the rest of it would stand."""
    assert without("rose-and-more", ("rose", "rose-and-more")) == "..."


@given(st.text(max_size=600))
def test_a_line_is_one_and_not_long(text: str) -> None:
    line = without(text, ())
    assert line.isprintable()
    assert len(line) <= LONGEST
    assert in_a_line(line) == line
