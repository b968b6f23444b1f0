"""`remind settings`: which reminders are sent, when, to whom and how; and who takes the mail."""

from pathlib import Path
from typing import Any

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command
from soakbook.cli.told_page import say

SERVER = ("mail_server", "mail_security", "mail_user", "mail_password", "mail_from", "mail_ca")
ASKED = "-"
"""A password that is asked for, so that no shell remembers it."""


def _schema(typed: dict[str, Any]) -> str:
    """Which report these words ask for."""
    return (
        "told"
        if {"wanted", "hour", "whom", "channel", "quiet", "usual"} & typed.keys()
        else "reminders"
    )


@click.command(
    "settings",
    cls=Command,
    examples=(
        "soakbook remind settings",
        "soakbook remind settings round --hour 06:30 --for keeper",
        "soakbook remind settings week --off",
        "soakbook remind settings heat --for Ann,Tom --channel push --quiet 21:30-06:30",
        "soakbook remind settings --mail-server smtp.example.org:465 \\",
        "    --mail-user garden@example.org --mail-password -",
    ),
)
@click.argument("kind", metavar="[KIND]", required=False)
@click.option("--on/--off", "wanted", default=None, help="Whether it is sent.")
@click.option("--hour", metavar="HOUR", help="When it is due: 06:30. The round's is the garden's.")
@click.option("--for", "whom", metavar="WHOM", help="keeper, next, head, all, or names: Ann,Tom.")
@click.option("--channel", metavar="CHANNEL", help="mail, push, or any: what the person has.")
@click.option("--quiet", metavar="HOURS", help="When nothing is sent: 22:00-06:00, or none.")
@click.option("--usual", is_flag=True, help="All of this kind as it was at first.")
@click.option("--mail-server", metavar="HOST:PORT", help="Who takes our mail.")
@click.option("--mail-security", metavar="HOW", help="tls, starttls; none only on this machine.")
@click.option("--mail-user", metavar="USER", help="For its login.")
@click.option(
    "--mail-password", metavar="PASSWORD", help="The same; - asks for it, or reads a line."
)
@click.option("--mail-from", metavar="ADDRESS", help="Whom mail comes from; else the user.")
@click.option("--mail-ca", metavar="FILE", help="The certificate of a server of your own.")
@options.by
@options.book
@options.as_json
@options.schema(_schema)
def settings_command(
    kind: str | None, book_path: str | None, as_json: bool, by: str | None, **typed: Any
) -> None:
    """Show how reminders are sent, or change it for one KIND.

    Addresses and passwords lie in a file of your own, never in the book, and are not shown.
    """
    from soakbook.services.books import where

    server = {name: typed.pop(name) for name in SERVER}
    how = {
        name: value
        for name, value in typed.items()
        if value not in (None, False) or (name == "wanted" and value is False)
    }
    path = where(book_path, specimen=False)
    if kind is None and how:
        raise click.UsageError("name the KIND first: soakbook remind settings round --hour 06:30")
    if any(value is not None for value in server.values()):
        if kind is not None:
            raise click.UsageError("the mail server is no one KIND's: say it by itself")
        _keep_server(server)
    if kind is not None and how:
        _set(path, kind, how, by, as_json)
        return
    _show(path, kind, as_json)


def _set(path: Path, kind: str, how: dict[str, Any], by: str | None, as_json: bool) -> None:
    from soakbook.reminders.setting import set_kind

    said = {name: value for name, value in how.items() if isinstance(value, str)}
    if "wanted" in how:
        said["wanted"] = "yes" if how["wanted"] else "no"
    if how.get("usual"):
        if len(how) > 1:
            raise click.UsageError("--usual stands by itself")
        said = {"usual": "yes"}
    say(set_kind(path, kind, now=options.now(), by=by, **said), as_json=as_json)


def _keep_server(server: dict[str, str | None]) -> None:
    from soakbook.reminders.addresses import keep_server

    password = server["mail_password"]
    if password == ASKED:
        password = paper.ask_hidden("Password of the mail server")
    keep_server(
        server["mail_server"],
        security=server["mail_security"],
        sender=server["mail_from"],
        user=server["mail_user"],
        password=password,
        ca_file=server["mail_ca"],
    )


def _show(path: Path, kind: str | None, as_json: bool) -> None:
    from soakbook.reminders.setting import settings_report

    report = settings_report(path, kind)
    if as_json:
        paper.put_json(report)
        return
    from soakbook.cli.remind_page import write_settings

    page = paper.new_page()
    write_settings(page, report)
    paper.put(page)
