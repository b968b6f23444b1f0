"""The specimen's account, made once; and a garden made by the services, a copy of its book for each test."""

import shutil
from pathlib import Path

import pytest

from soakbook.account.reviewed import Account, account_of
from tests.properties.followed import SPECIMEN
from tests.services.conftest import make


@pytest.fixture(scope="session")
def reviewed_specimen() -> Account:
    """The season of the specimen. Nobody may change its frames."""
    return account_of(SPECIMEN, 2031)


@pytest.fixture(scope="session")
def whole_garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book of the garden, made once and never written again."""
    path = tmp_path_factory.mktemp("garden") / "abbey.book"
    make(path)
    return path


@pytest.fixture
def garden(whole_garden: Path, tmp_path: Path) -> Path:
    """A book of the garden of its own: five plantings in four beds, weather to 14 May 2031, nothing watered."""
    path = tmp_path / "abbey.book"
    shutil.copyfile(whole_garden, path)
    return path
