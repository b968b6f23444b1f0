"""What is installed is whole: a wheel of this tree, in a fresh environment, without network."""

import os
import sys
import venv
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.house.process import ended_well
from tests.house.tree import PACKAGE, ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel of this tree."""
    folder = tmp_path_factory.mktemp("wheel")
    ended_well(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, cwd=ROOT)
    (made,) = folder.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The programs' folder of a fresh environment: the wheel, beside the libraries of this one."""
    folder = tmp_path_factory.mktemp("fresh")
    venv.create(folder, with_pip=True, symlinks=os.name == "posix")
    programs = folder / ("Scripts" if os.name == "nt" else "bin")
    python = programs / "python"
    ended_well(python, "-m", "pip", "install", "-q", "--no-deps", "--no-index", wheel)
    site = ended_well(
        python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"
    ).stdout.strip()
    # A folder named here is searched, but no .pth inside it is read: an editable soakbook stays out.
    libraries = Path(pytest.__file__).parents[1]
    Path(site, "libraries.pth").write_text(f"{libraries}\n", encoding="utf-8")
    return programs


def shipped(folder: Path) -> set[str]:
    """The files of an installed or checked-out package."""
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }


def test_a_wheel_holds_the_whole_package(wheel: Path) -> None:
    with ZipFile(wheel) as archive:
        names = set(archive.namelist())
    inside = {name.removeprefix("soakbook/") for name in names if name.startswith("soakbook/")}
    assert inside == shipped(PACKAGE)
    assert {"py.typed", "store/schema/0001.sql", "specimen/corrody.book"} <= inside
    assert any(name.endswith("dist-info/licenses/LICENSE") for name in names)


@pytest.mark.parametrize("on", [None, "2031-03-20", "2031-07-12", "2031-09-25"])
def test_an_installed_wheel_answers(installed: Path, tmp_path: Path, on: str | None) -> None:
    package = Path(
        ended_well(
            installed / "python", "-c", "import soakbook; print(soakbook.__path__[0])"
        ).stdout.strip()
    )
    assert package.is_relative_to(installed.parent)
    before = shipped(package)
    morning = ["--on", on] if on else []
    page = ended_well(installed / "soakbook", "round", "--specimen", *morning, cwd=tmp_path).stdout
    assert "Corrody" in page
    assert shipped(package) == before
