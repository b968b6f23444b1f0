"""What an account could not know: plantings without weather, days of it that were supposed."""

from soakbook.account.reviewed import Account
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted, names
from soakbook.reckoning.advice.unreckoned import of_no_start, of_none

LACKS = {"rain": "rain", "et0": "reference evapotranspiration", "temperature": "temperature"}


def findings_of(account: Account) -> tuple[str, ...]:
    """The gaps of an account, a sentence or two each; none in a season of which all is known."""
    asked, course = account.span.asked, account.course
    if course is None:
        return tuple(one.say for one in of_none(account.pages, asked))
    season = course.season
    found = [
        one.say for one in of_no_start(account.pages, season.unreckoned, asked, season.skies.first)
    ]
    gaps = account.days.loc[account.days["guessed"] != "", ["day", "guessed"]].drop_duplicates()
    if len(gaps):
        lacking = {word for words in gaps["guessed"] for word in str(words).split()}
        what = names([words for word, words in LACKS.items() if word in lacking])
        first, last = gaps["day"].min().date(), gaps["day"].max().date()
        when = (
            f"on {month_day(first)}"
            if first == last
            else f"between {month_day(first)} and {month_day(last)}"
        )
        found.append(
            f"{counted(len(gaps), 'day')} {when} {'lacks' if len(gaps) == 1 else 'lack'} {what}: reckoned as the ten "
            "days before, no rain. soakbook weather brings in what is missing."
        )
    return tuple(found)
