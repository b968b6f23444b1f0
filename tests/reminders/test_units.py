"""What makes a computer run the reminders: each text, read as its reader does, gives the words again."""

import plistlib
import shlex
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.reminders.units import Run, unit_text

PLAIN = Run("/opt/soakbook/bin/python", "/home/ann/abbey.book")
ODD = (
    "with blanks",
    "100%",
    "%h %% %",
    "$HOME ${X} $$",
    'a "quoted" word',
    "the gardener's",
    "back\\slash",
    "two\\\\slashes",
    "slash before per cent \\%",
    "ends with one\\",
    "ends with two%%",
    "Gießkanne λ 水",
    "; rm -rf x & `y` | (z) > # !",
    "~ * ? [a]",
)
LETTERS = st.text(
    st.one_of(st.sampled_from("\\%$\"' ;a"), st.characters(categories=("L", "N", "P", "S"))),
    min_size=1,
    max_size=20,
)


def read_by_systemd(text: str) -> list[str]:
    """The words of `ExecStart=`: systemd.syntax(7) on quoting, systemd.unit(5) on `%%`, systemd.service(5) on `$$`.

    A specifier, a variable, or a program whose name has quotes or a backslash in it is an error here.
    """
    (line,) = [one for one in text.splitlines() if one.startswith("ExecStart=")]
    rest, words, word, quote = line.removeprefix("ExecStart="), list[str](), "", ""
    begun = False
    while rest:
        letter, rest = rest[0], rest[1:]
        if letter == "\\":
            assert rest[0] in '\\"'
            word, rest = word + rest[0], rest[1:]
        elif letter == quote:
            quote = ""
        elif not quote and letter in "\"'":
            quote, begun = letter, True
        elif not quote and letter == " ":
            words.append(word)
            word, begun = "", False
        elif letter in "%":
            assert rest[0] == "%"
            word, rest = word + "%", rest[1:]
        elif letter == "$" and words:
            assert rest[0] == "$"
            word, rest = word + "$", rest[1:]
        else:
            word, begun = word + letter, True
    assert not quote
    assert begun
    words.append(word)
    assert not set(words[0]) & set("\"'\\")
    assert words[0].startswith("/")
    return words[1:] if words[0] == "/usr/bin/env" else words


def read_by_cron(text: str, *, doubled_is_one: bool) -> list[str]:
    r"""The words of the line: crontab(5) on `%` and `\%`, then a shell.

    Crons differ in what a backslash before a backslash is: both are kept, or one; the line must not depend on it.
    """
    line = text.rstrip("\n").splitlines()[-1]
    fields, command, rest = line.split(maxsplit=5)[:5], "", line.split(maxsplit=5)[5]
    assert fields == ["*/5", "*", "*", "*", "*"]
    escaped = False
    for letter in rest:
        if escaped:
            if letter == "%" or (letter == "\\" and doubled_is_one):
                command = command[:-1]
            command, escaped = command + letter, False
            continue
        assert letter != "%", "an end of line for cron"
        escaped = letter == "\\"
        command += letter
    return shlex.split(command)


def read_by_launchd(text: str) -> list[str]:
    """The words of the agent."""
    agent = plistlib.loads(text.encode())
    words: list[str] = agent["ProgramArguments"]
    return words


def check(run: Run) -> None:
    """All three give the words that they were made of."""
    assert read_by_systemd(unit_text("systemd", run)) == list(run.words("run"))
    assert read_by_launchd(unit_text("launchd", run)) == list(run.words("run"))
    for doubled_is_one in (False, True):
        found = read_by_cron(unit_text("cron", run), doubled_is_one=doubled_is_one)
        assert found == [*run.words("once"), "--quiet"]


def test_the_words_are_those_of_the_command_line() -> None:
    run = PLAIN._replace(calendar="/home/ann/abbey.ics")
    assert " ".join(run.words("run")) == (
        "/opt/soakbook/bin/python -m soakbook remind run --book /home/ann/abbey.book --calendar /home/ann/abbey.ics"
    )
    assert "--calendar" not in PLAIN.words("once")
    check(run)


def test_usual_paths_stand_as_they_are() -> None:
    line = "/opt/soakbook/bin/python -m soakbook remind {} --book /home/ann/abbey.book"
    assert f"ExecStart={line.format('run')}\n" in unit_text("systemd", PLAIN)
    assert unit_text("cron", PLAIN).endswith(f"\n*/5 * * * * {line.format('once')} --quiet\n")


@pytest.mark.parametrize("name", ODD)
def test_odd_paths_of_each_thing_come_through(name: str) -> None:
    path = f"/home/ann/{name}/x"
    check(PLAIN._replace(book=path))
    check(PLAIN._replace(book=f"/home/{name}", calendar=path))
    check(PLAIN._replace(python=path))


@given(LETTERS, LETTERS, st.none() | LETTERS)
def test_any_path_comes_through(python: str, book: str, calendar: str | None) -> None:
    check(Run(f"/{python}", f"/{book}", None if calendar is None else f"/{calendar}"))


@pytest.mark.parametrize("kind", ["systemd", "launchd", "cron"])
@pytest.mark.parametrize("field", ["python", "book", "calendar"])
@pytest.mark.parametrize("mark", ["\n", "\r", "\t", "\0", "\x1b", "\x7f", "\u2028", "\udcff"])
def test_what_does_not_print_is_refused(kind: str, field: str, mark: str) -> None:
    path = f"/home/a{mark}b"
    with pytest.raises(InputError, match="a path without control characters") as refused:
        unit_text(kind, PLAIN._replace(**{field: path}))
    assert (refused.value.field, refused.value.value) == (field, path)


def test_another_kind_is_refused() -> None:
    with pytest.raises(
        InputError, match="unit: 'upstart' cannot be right; one of systemd, launchd, cron"
    ):
        unit_text("upstart", PLAIN)


def test_each_says_where_it_goes_and_how_it_is_begun() -> None:
    systemd, launchd, cron = (unit_text(kind, PLAIN) for kind in ("systemd", "launchd", "cron"))
    assert systemd.startswith(
        "# ~/.config/systemd/user/soakbook-remind.service\n# Then: systemctl --user "
    )
    assert "loginctl enable-linger" in systemd
    assert "~/Library/LaunchAgents/soakbook.remind.plist" in launchd
    assert "launchctl bootstrap" in launchd
    assert cron.startswith("# For crontab -e:")
    assert [len(line) < 1000 for line in cron.splitlines()] == [True] * 3


def test_the_agent_is_started_again_only_where_it_broke() -> None:
    agent = plistlib.loads(unit_text("launchd", PLAIN).encode())
    assert agent["RunAtLoad"] is True
    assert agent["KeepAlive"] == {"SuccessfulExit": False}
    assert agent["Label"] == Path("soakbook.remind").name


def test_the_unit_is_started_again_only_where_it_broke() -> None:
    lines = unit_text("systemd", PLAIN).splitlines()
    assert {"Restart=on-failure", "WantedBy=default.target", "Type=exec"} <= set(lines)
