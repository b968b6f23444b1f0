"""The text that makes a computer run the reminders: for systemd, launchd and cron. Printed, never installed."""

import plistlib
import shlex
from collections.abc import Callable, Sequence
from typing import Literal, NamedTuple, get_args

from soakbook.errors import InputError

UnitKind = Literal["systemd", "launchd", "cron"]

LABEL = "soakbook.remind"


class Run(NamedTuple):
    """What is to be run: absolute paths, as the unit's starter knows no folder and no PATH."""

    python: str
    book: str
    calendar: str | None = None

    def words(self, how: str) -> Sequence[str]:
        """The command line of `remind run` or `remind once`."""
        calendar = () if self.calendar is None else ("--calendar", self.calendar)
        return (self.python, "-m", "soakbook", "remind", how, "--book", self.book, *calendar)


def unit_text(kind: str, run: Run) -> str:
    """What to put where, as its own remarks say.

    Parameters
    ----------
    kind : str
        systemd, launchd or cron.
    run : Run
        What is to be run.

    Raises
    ------
    InputError
        Another kind, or a path with an end of line in it.
    """
    if kind not in get_args(UnitKind):
        raise InputError("unit", kind, f"one of {', '.join(get_args(UnitKind))}")
    for field, path in run._asdict().items():
        if path is not None and not path.isprintable():
            raise InputError(field, path, "a path without control characters")
    texts: dict[str, Callable[[Run], str]] = {
        "systemd": _systemd,
        "launchd": _launchd,
        "cron": _cron,
    }
    return texts[kind](run)


def _systemd(run: Run) -> str:
    """A unit of the user's own: it reads the user's addresses.

    References
    ----------
    systemd.unit(5), systemd.service(5): double quotes keep blanks, a backslash and a quote inside them take a
    backslash, a per cent sign and a dollar are doubled.
    """
    words = " ".join(map(_systemd_word, run.words("run")))
    return f"""\
# ~/.config/systemd/user/soakbook-remind.service
# Then: systemctl --user daemon-reload
#       systemctl --user enable --now soakbook-remind
#       loginctl enable-linger        so that it runs while nobody is signed in
# What it does: journalctl --user -u soakbook-remind, and soakbook remind log
[Unit]
Description=soakbook: reminders for newly planted beds
Wants=network-online.target
After=network-online.target

[Service]
Type=exec
ExecStart={words}
Restart=on-failure
RestartSec=60
# A mail that is being sent is sent.
TimeoutStopSec=120
NoNewPrivileges=yes

[Install]
WantedBy=default.target
"""


def _systemd_word(word: str) -> str:
    safe = word.replace("\\", "\\\\").replace('"', '\\"').replace("%", "%%").replace("$", "$$")
    plain = all(letter.isalnum() or letter in "/._-" for letter in word)
    return word if plain else f'"{safe}"'


def _launchd(run: Run) -> str:
    """A launch agent of the user's own, as launchd.plist(5) has it."""
    agent = {
        "Label": LABEL,
        "ProgramArguments": list(run.words("run")),
        "RunAtLoad": True,
        "KeepAlive": {"SuccessfulExit": False},
        "ThrottleInterval": 60,
        "ExitTimeOut": 120,
        "ProcessType": "Background",
    }
    text = plistlib.dumps(agent).decode()
    head, _, rest = text.partition("<plist")
    said = (
        f"<!-- ~/Library/LaunchAgents/{LABEL}.plist\n"
        f"     Then: launchctl bootstrap gui/$UID ~/Library/LaunchAgents/{LABEL}.plist\n"
        "     What it does: soakbook remind log -->\n"
    )
    return f"{head}{said}<plist{rest}"


def _cron(run: Run) -> str:
    """A line for crontab -e; a per cent sign is an end of line there unless it has a backslash, crontab(5)."""
    words = " ".join(
        shlex.quote(word).replace("%", "\\%") for word in (*run.words("once"), "--quiet")
    )
    return f"""\
# For crontab -e: looks every five minutes, sends what is due and says nothing but what is wrong.
# A computer that sleeps catches up when it wakes; what is too old by then is written as lapsed.
*/5 * * * * {words}
"""
