"""What README and DEVELOPERS tell to type is there, and what is there is told."""

import re
import shlex
from collections.abc import Iterator

import click

from soakbook.cli.main import soakbook
from tests.house.tree import PACKAGE, ROOT, TESTS, files, source

README = ROOT / "README.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
INSTALL = (
    "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/soakbook round --specimen"
)
TEST = (
    "python3 -m venv .venv && .venv/bin/pip install -q -e '.[test]' && .venv/bin/python -m pytest"
)

FENCED = re.compile(r"^```(?:\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def fenced_lines(text: str) -> list[str]:
    """Lines of all fenced blocks."""
    return [line for block in FENCED.findall(text) for line in block.splitlines()]


def commands_of(
    group: click.Group, context: click.Context, path: str = "soakbook"
) -> Iterator[tuple[str, click.Command]]:
    """Every command that can be typed, with the words that lead to it."""
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        if isinstance(command, click.Group):
            if command.invoke_without_command:
                yield f"{path} {name}", command
            yield from commands_of(command, context, f"{path} {name}")
        else:
            yield f"{path} {name}", command


COMMANDS = dict(commands_of(soakbook, click.Context(soakbook)))


def typed_lines() -> list[str]:
    """The lines of README's blocks that call soakbook, without what leads up to the call."""
    lines = [line.strip().removeprefix("$ ") for line in fenced_lines(source(README))]
    return [line for line in lines if re.match(r"(\.venv/bin/)?soakbook( |$)", line)]


def command_of(words: list[str]) -> str:
    """The command a line calls, as COMMANDS has it."""
    two, three = " ".join(words[:2]), " ".join(words[:3])
    return three if three in COMMANDS else two


def test_readme_has_the_two_commands() -> None:
    lines = fenced_lines(source(README))
    assert lines.count(INSTALL) == 1
    assert lines.count(TEST) == 1


def unknown_in(line: str) -> set[str]:
    """The command and the options of a line that there are not."""
    words = shlex.split(line.split("|", maxsplit=1)[0], comments=True)
    words[0] = "soakbook"
    if len(words) == 1 or words[1].startswith("-"):
        return set(words[1:]) - {"-h", "--help", "--version"}
    if command_of(words) not in COMMANDS:
        return {command_of(words)}
    known = {"-h", "--help"}
    for parameter in COMMANDS[command_of(words)].params:
        known |= {*parameter.opts, *parameter.secondary_opts}
    return {word.split("=")[0] for word in words if re.match(r"--?[a-z]", word)} - known


def test_what_readme_tells_to_type_is_there() -> None:
    lines = typed_lines()
    assert lines
    found = [f"{line}: no {missing}" for line in lines if (missing := unknown_in(line))]
    assert not found, "\n".join(found)


def test_readme_tells_every_command() -> None:
    text = source(README)
    assert [command for command in COMMANDS if not re.search(rf"{command}\b", text)] == []


def test_developers_tells_where_every_command_lives() -> None:
    """In the table of commands: its words in back ticks, with its module in the same row."""
    rows = [row for row in source(DEVELOPERS).splitlines() if re.search(r"`commands/\w+\.py`", row)]
    table = "\n".join(rows)
    words = [command.removeprefix("soakbook ") for command in COMMANDS]
    assert [one for one in words if f"`{one}`" not in table] == []


def test_files_that_are_named_are_there() -> None:
    named = re.findall(
        r"`([\w/.]+\.(?:py|sql|txt|csv|json|ipynb))`", source(README) + source(DEVELOPERS)
    )
    folders = (PACKAGE, TESTS, ROOT / ".ci", ROOT / "data", ROOT / "notebooks")
    there = [path.as_posix() for folder in folders for path in files(folder, "*.*")]
    assert named
    assert [
        name
        for name in named
        if "NNNN" not in name and not any(path.endswith(f"/{name}") for path in there)
    ] == []
