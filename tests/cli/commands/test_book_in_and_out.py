"""`book export` and `book import`: what they hand to the services, and what comes of a slip."""

from pathlib import Path

import pytest

from soakbook.cli.main import main
from soakbook.services.books import SPECIMEN
from tests.cli.conftest import Run, Services
from tests.cli.test_schemas import validate


@pytest.mark.parametrize(
    ("words", "service", "folder", "options"),
    [
        ("export out", "export", "out", {"without_names": False}),
        ("export out --without-names --json", "export", "out", {"without_names": True}),
        ("export ~no-such-user/out", "export", "~no-such-user/out", {"without_names": False}),
        ("import out", "bring_back", "out", {"new": False, "dry_run": False}),
        ("import ~/out", "bring_back", "~/out", {"new": False, "dry_run": False}),
        (
            "import ~no-such-user/out",
            "bring_back",
            "~no-such-user/out",
            {"new": False, "dry_run": False},
        ),
        ("import out --new --dry-run", "bring_back", "out", {"new": True, "dry_run": True}),
    ],
)
def test_words_reach_the_service(
    words: str, service: str, folder: str, options: dict[str, bool], run: Run, services: Services
) -> None:
    assert run("book", *words.split()).status == 0
    asked = services.last()
    assert (asked.service, asked.words, asked.options) == (
        service,
        (Path("garden.book"), Path(folder.replace("~/", f"{Path.home()}/"))),
        options,
    )


def test_out_and_in_again_on_a_real_book(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import json

    out, again = str(tmp_path / "out"), str(tmp_path / "again.book")
    assert SPECIMEN.exists()
    assert main(["book", "export", out, "--specimen", "--json"]) == 0
    validate(json.loads(capsys.readouterr().out), "told")
    assert main(["book", "import", out, "--new", "--book", again, "--json"]) == 0
    validate(json.loads(capsys.readouterr().out), "told")
    assert main(["book", "import", out, "--book", again]) == 0
    assert "nothing was added" in capsys.readouterr().out
    assert main(["book", "import", out, "--new", "--book", again]) == 2
    err = capsys.readouterr().err
    assert err.startswith("soakbook: ")
    assert len(err.splitlines()) == 1
