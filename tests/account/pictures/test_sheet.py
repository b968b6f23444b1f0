"""What a sheet gives: SVG that is well formed, silent about its making, the same each time."""

import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest

from soakbook.account.pictures.ink import INK
from soakbook.account.pictures.shapes import box, line, ring, runs
from soakbook.account.pictures.sheet import Sheet, plain_name
from soakbook.errors import InputError

SVG = "{http://www.w3.org/2000/svg}"


def drawn(title: str = "A bed", name: str = "bed") -> bytes:
    """A sheet with a box, a line and a word."""
    sheet = Sheet(100, 50)
    sheet.fill([box(10, 5, 30, 45)], INK)
    sheet.stroke([line((0, 0), (100.1234, 50))], INK, 2.5)
    sheet.words((50, 25), "soil & <ball> $x_1$ -- 花")
    return sheet.svg(name, title, "A box and a line.")


def test_it_is_well_formed_with_title_and_description() -> None:
    root = ET.fromstring(drawn("Tom & Ann's <bed> --> \x00"))
    assert root.findtext(f"{SVG}title") == "Tom & Ann's <bed> --> "
    assert root.findtext(f"{SVG}desc") == "A box and a line."
    assert root.get("role") == "img"
    ids = {one.get("id") for one in root.iter()}
    assert set(str(root.get("aria-labelledby")).split()) <= ids


def test_points_stand_where_they_were_put() -> None:
    paths = re.findall(rb'd="([^"]+)"\s+style="fill: #1f1710"', drawn())
    numbers = [float(one) for one in re.findall(rb"-?[\d.]+", paths[0])]
    assert numbers == [10, 5, 30, 5, 30, 45, 10, 45]
    assert b"100.12 50" in drawn()
    assert b"100.123" not in drawn()


def test_the_same_marks_give_the_same_bytes() -> None:
    assert drawn() == drawn()


def test_the_same_bytes_come_from_another_process_with_settings_of_its_own() -> None:
    """Somebody's red text in somebody's session does not change our pictures."""
    say = (
        "import sys, matplotlib as mpl; mpl.rcParams.update({'text.color': 'red', 'lines.linewidth': 9,"
        " 'figure.dpi': 300, 'savefig.bbox': 'tight', 'axes.xmargin': 0.4, 'svg.fonttype': 'none'});"
        "from tests.account.pictures.test_sheet import drawn; sys.stdout.buffer.write(drawn())"
    )
    done = subprocess.run([sys.executable, "-c", say], capture_output=True, check=True)
    assert done.stdout == drawn()


def test_nothing_is_fetched_and_nothing_rules_the_page_around_it() -> None:
    svg = drawn()
    root = ET.fromstring(svg)
    names = {value for one in root.iter() for key, value in one.items() if "href" in key}
    assert names
    assert all(one.startswith("#bed-") for one in names)
    assert b"<!DOCTYPE" not in svg
    assert not list(root.iter(f"{SVG}style")) + list(root.iter(f"{SVG}script"))
    # What is left of addresses are the two names of SVG itself.
    found = set(re.findall(rb"https?://[^\"\s]+", svg))
    assert found == {b"http://www.w3.org/2000/svg", b"http://www.w3.org/1999/xlink"}


def test_identifiers_of_two_pictures_on_a_page_differ() -> None:
    one, other = (
        {node.get("id") for node in ET.fromstring(drawn(name=name)).iter()} - {None}
        for name in ("strip-dole", "strip-bank")
    )
    assert one
    assert not one & other


def test_names_stay_apart_when_they_are_made_plain() -> None:
    assert plain_name("strip-dole") == "strip-dole"
    assert plain_name("a b/c") == "a_20_b_2f_c"
    assert len({plain_name(one) for one in ("花", "园", "_82b1_", "-")}) == 4


def test_matplotlib_comes_only_when_something_is_drawn() -> None:
    modules = ("drawn", "looking", "stream", "strip", "tallies", "thirst", "sheet")
    imports = "; ".join(f"import soakbook.account.pictures.{one}" for one in modules)
    say = f"import sys; {imports}; print([one for one in ('matplotlib', 'pandas', 'typst') if one in sys.modules])"
    done = subprocess.run([sys.executable, "-c", say], capture_output=True, check=True, text=True)
    assert done.stdout.strip() == "[]"


def test_a_home_that_cannot_be_written_to_is_no_matter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    no_folder = tmp_path / "file"
    no_folder.write_text("", encoding="utf-8")
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "MPLCONFIGDIR"):
        monkeypatch.setenv(name, str(no_folder / "within"))
    say = "from tests.account.pictures.test_sheet import drawn; import sys; sys.stdout.buffer.write(drawn())"
    done = subprocess.run([sys.executable, "-c", say], capture_output=True, check=True)
    assert done.stderr == b""
    assert done.stdout == drawn()


def test_without_matplotlib_there_is_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib.figure", None)
    with pytest.raises(InputError) as refused:
        drawn()
    assert str(refused.value) == (
        "Matplotlib, which draws the pictures, is not installed: pip install 'soakbook[reports]'"
    )


def test_shapes() -> None:
    assert box(0, 1, 2, 3).tolist() == [[0, 1], [2, 1], [2, 3], [0, 3]]
    round_one = ring((5, 5), 2)
    assert np.allclose(np.hypot(*(round_one - 5).T), 2)
    assert runs(np.array([True, True, False, True])) == [(0, 2), (3, 4)]
    assert runs(np.array([False, False])) == []
