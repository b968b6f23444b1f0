"""What a command line comes to: status, one sentence, nothing more."""

import json
import os
import subprocess
import sys
from collections.abc import Callable

import click
import pytest

from soakbook import __version__
from soakbook.cli.examples import Exampled
from soakbook.cli.main import COMMANDS, main, soakbook
from soakbook.cli.on_demand import OnDemand
from soakbook.cli.options import Word
from soakbook.errors import BookError, InputError, LedgerError
from tests.cli.conftest import Run, Services
from tests.cli.reports import TOLD, a_round
from tests.cli.words import FORBIDDEN

DESIGNED = (
    "round why soak rain feel wilt left loss mulch bed plant tap person restriction rate "
    "weather book remind account proof"
)
BOOKS = ("new", "where", "log", "amend", "undo", "check", "copy", "export", "import")
REMINDS = ("run", "once", "log", "show", "settings", "done", "half", "could-not", "left")


def commands() -> dict[str, click.Command]:
    """Every command by the words that lead to it."""
    context = click.Context(soakbook)
    found = {name: soakbook.get_command(context, name) for name in soakbook.list_commands(context)}
    for group, itself in (("book", ()), ("remind", ("remind",))):
        one = found.pop(group)
        assert isinstance(one, click.Group)
        inner = click.Context(one, parent=context)
        found |= dict.fromkeys(itself, one)
        found |= {
            f"{group} {name}": one.get_command(inner, name) for name in one.list_commands(inner)
        }
    return {words: command for words, command in found.items() if command is not None}


def test_the_commands_are_those_of_the_design_and_no_more() -> None:
    assert list(COMMANDS) == DESIGNED.split()
    assert {words for words in commands() if " " in words} == {
        *(f"book {name}" for name in BOOKS),
        *(f"remind {name}" for name in REMINDS),
    }


@pytest.mark.parametrize("words", commands())
def test_help_begins_with_examples_that_can_be_typed(words: str, run: Run) -> None:
    short, long = run(*words.split(), "-h"), run(*words.split(), "--help")
    assert short == long
    assert short.status == 0
    assert short.out.index("Examples:") < short.out.index("Options:")
    command = commands()[words]
    assert isinstance(command, Exampled)
    known = {option for one in command.params for option in (*one.opts, *one.secondary_opts)}
    for example in command.examples:
        assert example.startswith((f"soakbook {words}", "    --"))
        typed = {word for word in example.partition("|")[0].split() if word.startswith("--")}
        assert typed <= known, example


@pytest.mark.parametrize("words", ["", *commands()])
def test_help_is_in_a_gardeners_words_and_eighty_columns(words: str, run: Run) -> None:
    for line in run(*words.split(), "-h").out.splitlines():
        assert len(line) <= 80
        assert not FORBIDDEN.search(line.replace("2.5%", "")), line


@pytest.mark.parametrize("words", commands())
def test_every_option_and_command_says_what_it_does(words: str) -> None:
    command = commands()[words]
    assert command.help
    for one in command.params:
        if isinstance(one, click.Option):
            assert one.help, one.name


@pytest.mark.parametrize(
    ("words", "caution"),
    [
        ("soak", "10 kg a hand"),
        ("feel", "buried cables"),
        ("wilt", "call for medical help"),
        ("mulch", "legionella"),
        ("plant", "legionella"),
        ("tap", "small children drown in butts"),
        ("restriction", "the company's text decides"),
        ("proof", "does not show who made the file"),
    ],
)
def test_cautions_stand_where_they_are_met(words: str, caution: str, run: Run) -> None:
    out = " ".join(run(words, "-h").out.split())
    assert out.index("Take care:") < out.index(caution)


def test_version(run: Run) -> None:
    assert run("--version").out == f"soakbook {__version__}\n"


def test_no_command_at_all_shows_the_help(run: Run) -> None:
    ran = run()
    assert (ran.status, ran.out) == (2, "")
    assert "Commands:" in ran.err


@pytest.mark.parametrize(
    "fault",
    [
        InputError("bed", "chappel", "did you mean chapel?"),
        BookError("garden.book is not a book"),
    ],
)
def test_what_the_gardener_can_mend_is_one_sentence(
    fault: Exception, run: Run, services: Services
) -> None:
    services.answers["round_report"] = fault
    assert run("round") == (2, "", f"soakbook: {fault}\n")


def test_a_fault_of_ours_says_that_it_is(run: Run, services: Services) -> None:
    fault = LedgerError("roses", 3, "2031-05-15", {"left": 0.1})
    services.answers["round_report"] = fault
    ran = run("round")
    assert ran.status == 1
    assert ran.err == f"soakbook: {fault}; this is a fault of soakbook's, please report it\n"


def test_what_nobody_foresaw_is_not_hidden(run: Run, services: Services) -> None:
    services.answers["round_report"] = ZeroDivisionError("2 / 0")
    with pytest.raises(ZeroDivisionError):
        run("round")


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("sok", "There is no command 'sok'; did you mean soak? (see soakbook -h)"),
        ("stock", "There is no command 'stock'; did you mean soak? (see soakbook -h)"),
        ("xyz", "There is no command 'xyz' (see soakbook -h)"),
        ("--nothing", "No such option '--nothing' (see soakbook -h)"),
        ("rain", "Missing argument 'AMOUNT' (see soakbook rain -h)"),
        ("soak 5cans", "Missing argument 'BED...' (see soakbook soak -h)"),
        ("rain -3mm", "number: '-3mm' cannot be right; nothing below 0"),
        ("soak chapel -.5l", "number: '-.5l' cannot be right; nothing below 0"),
        ("plant wall rose -4", "number: '-4' cannot be right; nothing below 0"),
        ("rain 3mm --genle", "No such option '--genle'. (Did you mean"),
        ("feel chapel --ball drye", "ball: 'drye' cannot be right; one of dust, dry, moist"),
        ("tap A --source well", "source: 'well' cannot be right; one of mains, butt"),
        ("tap A --flow 1l/min --fill 10l 43s", "flow: '1l/min' cannot be right; either --flow"),
        ("bed --area 18m2", "say which bed: its KEY goes before the options"),
        ("bed chapel --area 18m2 --specimen", "the specimen garden is only read"),
        ("rate 1apr beer 4.00", "Invalid value for 'water|hour': 'beer' is not one of"),
    ],
)
def test_a_slip_on_the_command_line(line: str, sentence: str, run: Run) -> None:
    ran = run(*line.split())
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"soakbook: {sentence}")
    assert len(ran.err.splitlines()) == 1


def test_no_service_is_called_on_a_slip(run: Run, services: Services) -> None:
    run("feel", "chapel", "--ball", "drye")
    assert services.asked == []


def test_breaking_off_is_quiet(run: Run, services: Services) -> None:
    services.answers["round_report"] = KeyboardInterrupt()
    ran = run("round")
    assert (ran.status, ran.out, ran.err.strip()) == (130, "", "")


def reader_gone() -> int:
    reads, writes = os.pipe()
    os.close(reads)
    return writes


def full() -> int:
    return os.open("/dev/full", os.O_WRONLY)


@pytest.mark.parametrize(
    ("out", "why"),
    [(reader_gone, "nobody reads it any more"), (full, "No space left on device")],
)
@pytest.mark.parametrize("words", ["--help", "round -h", "round --specimen --json-schema"])
def test_what_cannot_be_printed_is_one_plain_line(
    words: str, out: Callable[[], int], why: str
) -> None:
    writes = out()
    try:
        done = subprocess.run(
            [sys.executable, "-m", "soakbook", *words.split()],
            stdout=writes,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    finally:
        os.close(writes)
    assert (done.returncode, done.stderr) == (1, f"soakbook: this could not be printed: {why}\n")


def test_so_it_is_where_there_is_no_standard_output_at_all(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    assert main(["--help"]) == 1
    assert capsys.readouterr().err == (
        "soakbook: this could not be printed: standard output is closed\n"
    )


def test_a_file_that_cannot_be_read_is_not_taken_for_a_page_that_cannot_be_printed(
    run: Run, services: Services
) -> None:
    services.answers["round_report"] = PermissionError(13, "Permission denied", "garden.book")
    with pytest.raises(PermissionError):
        run("round")


def test_as_a_module_it_is_the_same_command() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "soakbook", "rain", "-3mm"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "soakbook: number: '-3mm' cannot be right; nothing below 0\n"


def test_a_command_is_imported_only_when_called_for() -> None:
    code = (
        "import sys; from soakbook.cli.main import main; main(['round', '-h']);"
        "print([name for name in sys.modules if name.startswith('soakbook.cli.commands.')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "['soakbook.cli.commands.morning']"


def test_completion_is_clicks_own() -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from soakbook.cli.main import main; main()"],
        env={"_SOAKBOOK_COMPLETE": "bash_complete", "COMP_WORDS": "soakbook ra", "COMP_CWORD": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert {line.partition(",")[2] for line in done.stdout.split()} == {"rain", "rate"}


def test_a_word_is_taken_with_hyphen_or_underline_in_any_case() -> None:
    from soakbook.garden.entries import SoakKind

    kind = Word(SoakKind)
    assert kind.listed == "soak, rescue, re-wet, water-in"
    assert {kind.convert(word, None, None) for word in ("re-wet", "re_wet", "Re-Wet")} == {"re_wet"}


def test_unknown_words_do_not_stop_completion() -> None:
    context = click.Context(soakbook, resilient_parsing=True)
    assert isinstance(soakbook, OnDemand)
    assert soakbook.get_command(context, "sok") is None


def test_with_json_nothing_but_json_is_printed(run: Run, services: Services) -> None:
    services.answers |= {"round_report": a_round(), "soak": [TOLD, TOLD], "rain": TOLD}
    assert json.loads(run("round", "--json").out) == a_round()
    assert json.loads(run("soak", "chapel", "bank", "5cans", "--json").out) == [TOLD, TOLD]
    assert json.loads(run("rain", "3mm", "--json").out) == TOLD
