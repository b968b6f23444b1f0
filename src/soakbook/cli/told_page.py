"""What an entry changed, said back. The words are the service's; here they are set on the page."""

from collections.abc import Sequence

from soakbook.cli import paper
from soakbook.cli.paper import Report


def say(answers: Report | Sequence[Report], *, as_json: bool) -> None:
    """Print one answer, or one for each bed."""
    if as_json:
        paper.put_json(answers if isinstance(answers, dict) else list(answers))
        return
    page = paper.new_page()
    for number, answer in enumerate([answers] if isinstance(answers, dict) else answers):
        if number:
            page.line()
        for paragraph in answer["say"]:
            page.text(paragraph)
    paper.put(page)
