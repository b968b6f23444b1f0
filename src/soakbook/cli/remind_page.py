"""Reminders on a page: what came of a look, the log, the settings."""

from datetime import date, datetime

from soakbook.cli.paper import Page, Report
from soakbook.quantities import saying
from soakbook.quantities.dates import WEEKDAYS, long_day
from soakbook.quantities.saying import names
from soakbook.reminders.kinds import lasting_words
from soakbook.reminders.setting import setting_words

HANG = 4
STATES = {"due": "waits", "given_up": "given up"}


def write_once(page: Page, report: Report) -> None:
    """Write what was sent and what waits."""
    for sentence in report["say"]:
        page.text(sentence)
    if not report["notices"]:
        page.text("Nothing was due.")
    for notice in report["notices"]:
        _notice(page, notice, date.fromisoformat(report["today"]))


def write_notices(page: Page, report: Report) -> None:
    """Write the log: reminders, then what the clock met with."""
    today = date.fromisoformat(report["today"])
    page.text(f"{report['garden']}: reminders, newest last", bold=True)
    if report["older"]:
        page.text("Older ones are left out: --all shows them.")
    if not report["notices"]:
        page.text("None yet.")
    for notice in report["notices"]:
        _notice(page, notice, today)
    if report["incidents"]:
        page.line()
        page.text("The clock met with", bold=True)
    for one in report["incidents"]:
        page.text(f"{_when(one['at'], today)}  {one['say']}", hang=HANG)


def write_day(page: Page, report: Report) -> None:
    """Write a day's reminders as whoever gets them reads them."""
    today = date.fromisoformat(report["today"])
    page.text(f"{report['garden']}: reminders of {long_day(today)}", bold=True)
    if not report["notices"]:
        page.text("None.")
    for notice in report["notices"]:
        at = datetime.fromisoformat(notice["due_at"])
        whom = f"for {notice['whom']}, " if notice["whom"] else ""
        page.line()
        page.pair(notice["title"], f"[{whom}{at:%H:%M}]")
        page.text(notice["body"], indent=2)


def write_settings(page: Page, report: Report) -> None:
    """Write how each kind is sent, and who is reached."""
    page.text(f"{report['garden']}: reminders", bold=True)
    for kind in report["kinds"]:
        page.text(setting_words(kind), hang=HANG)
        page.text(kind["explained"], indent=HANG)
        if len(report["kinds"]) == 1:
            page.text(lasting_words(kind["kind"]), indent=HANG)
    page.line()
    page.text("Who is reached", bold=True)
    if not report["people"]:
        page.text("Nobody is entered: soakbook person Ann --mail ann@example.org")
    for person in report["people"]:
        by = f"by {names(person['channels'])}" if person["channels"] else "nowhere yet"
        page.text(f"{person['name']}{', the head' if person['head'] else ''}: {by}.", hang=HANG)
    if not report["mail_server"]:
        page.text(
            "No server takes mail yet: soakbook remind settings --mail-server HOST:PORT --mail-user USER "
            "--mail-password -"
        )


def _notice(page: Page, notice: Report, today: date) -> None:
    state = STATES.get(notice["state"], notice["state"])
    whom = f" to {notice['whom']}" if notice["whom"] else ""
    by = f" by {notice['channel']}" if notice["channel"] else ""
    at = _when(notice["settled_at"] or notice["due_at"], today)
    page.text(f"{at}  {state}{whom if state == 'sent' else ''}{by}: {notice['title']}", hang=HANG)
    page.text(notice["body"], indent=HANG)
    if notice["state"] != "sent" and notice["whom"]:
        page.text(f"For {notice['whom']}.", indent=HANG)
    if notice["answer"] and notice["state"] != "sent":
        page.text(f"{saying.sentence(notice['answer'])}", indent=HANG)


def _when(text: str, today: date) -> str:
    """`Thu 15 May 07:40`, and the year where it is not this one."""
    moment = datetime.fromisoformat(text)
    day = moment.date()
    return f"{WEEKDAYS[day.weekday()][:3]} {saying.date_of(day, today)} {moment:%H:%M}"
