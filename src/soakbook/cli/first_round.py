"""How setting up ends: what there is, the first round, and what to feel."""

from collections.abc import Sequence
from pathlib import Path

from soakbook.cli import options, paper
from soakbook.errors import InputError
from soakbook.quantities.saying import counted, quoted

BALLS_TO_FEEL = 2
LEAST_SURE = (
    "The round is at its least sure today: it knows of no soak before now. Put a finger in {} and tell me what is "
    "there:"
)
NO_PLANTS = """\
Nothing is planted in the book yet. When something is:
  soakbook plant chapel "climbing rose" 6 --pot 7.5l --on 20mar
  soakbook plant --from plan.csv
  soakbook round"""


def put_first_round(path: Path, offline: bool, with_balls: Sequence[str]) -> None:
    """Print what the book has, ask for weather once, and print the first round; then which balls to feel.

    `with_balls` are the keys of the beds in which there are any.
    """
    from soakbook.services.mornings import round_report
    from soakbook.services.setup import beds

    found = beds(path)["beds"]
    plants = sum(one["living"] for bed in found for one in bed["plantings"])
    guesses = sum(len(bed["guesses"]) for bed in found)
    page = paper.new_page()
    page.text(f"Done: {counted(len(found), 'bed')}, {counted(plants, 'plant')}.{_guesses(guesses)}")
    if not plants:
        page.text(NO_PLANTS)
        paper.put(page)
        return
    for sentence in _weather(path, offline):
        page.text(sentence)
    page.line()
    paper.put(page)
    from soakbook.cli.round_page import write_round

    report = round_report(path, now=options.now())
    page = paper.new_page()
    write_round(page, report)
    called = [call["bed"] for call in report["calls"] if call["bed"] in with_balls]
    feel = (called or list(with_balls))[:BALLS_TO_FEEL]
    if feel:
        page.line()
        page.text(LEAST_SURE.format("two balls" if len(feel) > 1 else "a ball"))
    for key in feel:
        page.text(f"  soakbook feel {quoted(key)} --ball dry --bed moist")
    paper.put(page)


def _guesses(count: int) -> str:
    if not count:
        return ""
    are = "thing is my guess" if count == 1 else "things are my guesses"
    return f" {count} {are}; soakbook bed lists them."


def _weather(path: Path, offline: bool) -> list[str]:
    """Ask for weather once; sentences about what came, or why nothing did."""
    from soakbook.services.weather import ask

    if offline:
        return ["No weather was asked for (offline)."]
    try:
        return ask(path, now=options.now(), offline=False).say
    except InputError as error:
        return [f"No weather was asked for. {error}"]
