"""The notebooks, each run from clean in a process of its own: what its text claims is asserted in it and holds."""

import ast
import os
import re
import shutil
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from nbformat import NotebookNode
from nbformat.v4 import new_code_cell, new_notebook

from tests.house.tree import ROOT, files, source

FOLDER = ROOT / "notebooks"
NOTEBOOKS = files(FOLDER, "*.ipynb")
METADATA = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}
RANDOM_ID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){0,3}(-?[0-9a-f]{12})?")
SECONDS_A_CELL = 120
"""Far more than any takes: a shared machine is slow at odd moments."""

each_notebook = pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])


def read(path: Path) -> NotebookNode:
    notebook: NotebookNode = nbformat.reads(source(path), as_version=nbformat.NO_CONVERT)
    return notebook


def code_cells(notebook: NotebookNode) -> list[NotebookNode]:
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def run(notebook: NotebookNode, folder: Path) -> None:
    """Run all cells from a folder; what they print is in the notebook afterwards."""
    NotebookClient(
        notebook, timeout=SECONDS_A_CELL, resources={"metadata": {"path": str(folder)}}
    ).execute()


def below(folder: Path) -> set[Path]:
    return set(folder.rglob("*"))


@pytest.fixture(autouse=True)
def home(own_home: None) -> Path:
    """The test's own home, made: IPython wants to write there."""
    folder = Path(os.environ["HOME"])
    folder.mkdir()
    return folder


@pytest.fixture
def clean_copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Notebooks and data as a clean copy has them, and an empty folder for what is temporary."""
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setenv("TMPDIR", str(temporary))
    for name in ("notebooks", "data"):
        shutil.copytree(ROOT / name, tmp_path / "copy" / name)
    return tmp_path / "copy"


def test_there_are_the_four() -> None:
    names = {"first_garden", "fao56_examples", "dry_year", "season"}
    assert {path.stem for path in NOTEBOOKS} == names


@each_notebook
def test_what_a_notebook_claims_holds_from_clean(path: Path, clean_copy: Path, home: Path) -> None:
    """Run in a new folder and a new home; nothing of soakbook's is left in either."""
    notebook, before = read(path), below(clean_copy)
    run(notebook, clean_copy / "notebooks")
    cells = code_cells(notebook)
    assert [cell.execution_count for cell in cells] == list(range(1, len(cells) + 1))
    printed = [one for cell in cells for one in cell.outputs]
    assert printed
    assert [one.text for one in printed if "Warning" in one.get("text", "")] == []
    assert below(clean_copy) == before
    assert below(clean_copy.parent / "temporary") == set()
    assert [one for one in below(home) if "soakbook" in one.name or one.suffix == ".book"] == []


def test_a_wrong_claim_is_not_passed_over(tmp_path: Path) -> None:
    wrong = new_notebook(cells=[new_code_cell("assert 2 + 2 == 5")])
    with pytest.raises(CellExecutionError, match="AssertionError"):
        run(wrong, tmp_path)


@each_notebook
def test_a_notebook_is_kept_as_it_was_written(path: Path) -> None:
    """Without outputs and numbers of a run, under names of its own, as nbformat lays it out."""
    notebook = read(path)
    nbformat.validate(notebook)
    assert (notebook.nbformat, notebook.nbformat_minor) == (4, 5)
    assert notebook.metadata == METADATA
    assert [cell.id for cell in notebook.cells if cell.metadata] == []
    ran = [cell.id for cell in code_cells(notebook) if cell.outputs or cell.execution_count]
    assert ran == []
    assert [cell.id for cell in notebook.cells if RANDOM_ID.fullmatch(cell.id)] == []
    assert source(path) == nbformat.writes(notebook) + "\n"


@each_notebook
def test_every_cell_is_led_up_to(path: Path) -> None:
    """A sentence before each piece of code."""
    cells = read(path).cells
    before = dict(zip([cell.id for cell in cells[1:]], cells, strict=False))
    alone = [
        cell.id
        for cell in code_cells(read(path))
        if cell.id not in before or before[cell.id].cell_type != "markdown"
    ]
    assert alone == []


@each_notebook
def test_the_last_cell_asserts(path: Path) -> None:
    last = read(path).cells[-1]
    assert last.cell_type == "code"
    assert any(isinstance(node, ast.Assert) for node in ast.parse(last.source).body)
