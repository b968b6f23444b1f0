"""Sizes, flows, times, slopes and jars as gardeners write them."""

from collections.abc import Callable
from functools import partial

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.quantities.measures import (
    parse_area_m2,
    parse_dressing_cm,
    parse_fill_l_per_min,
    parse_flow_l_per_min,
    parse_fraction,
    parse_jar,
    parse_length_m,
    parse_minutes,
    parse_mm_per_h,
    parse_spots_cm,
    parse_times,
)

Refusal = Callable[[Callable[[], object]], InputError | None]

PARSERS: list[Callable[[str], object]] = [
    parse_area_m2,
    partial(parse_length_m, field="ball"),
    parse_flow_l_per_min,
    parse_fill_l_per_min,
    parse_minutes,
    partial(parse_mm_per_h, field="hole"),
    partial(parse_fraction, field="slope"),
    parse_jar,
    parse_spots_cm,
    partial(parse_dressing_cm, area_m2=18.0),
]


def in_pint(theirs: str, unit: str) -> float:
    """What pint makes of it."""
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    return float(registry(theirs).to(unit).magnitude)


@pytest.mark.parametrize(
    ("text", "theirs"),
    [
        ("18m2", "18 m**2"),
        ("18 m²", "18 m**2"),
        ("18 sq m", "18 m**2"),
        ("200sqft", "200 ft**2"),
        ("200 square feet", "200 ft**2"),
        ("20 sq yd", "20 yd**2"),
    ],
)
def test_areas_are_pints(text: str, theirs: str) -> None:
    expected = in_pint(theirs, "m**2")
    assert parse_area_m2(text) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "theirs"),
    [
        ("45cm", "45 cm"),
        ("0.45m", "0.45 m"),
        ("50mm", "50 mm"),
        ("18in", "18 inch"),
        ('18"', "18 inch"),
        ("1½ ft", "1.5 ft"),
    ],
)
def test_lengths_are_pints(text: str, theirs: str) -> None:
    expected = in_pint(theirs, "m")
    assert parse_length_m(text, "ball") == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "theirs"),
    [
        ("14l/min", "14 liter/minute"),
        ("14 L / min", "14 liter/minute"),
        ("840 l/h", "14 liter/minute"),
        ("3gal/min", "3 imperial_gallon/minute"),
        ("3 us gal/min", "3 US_liquid_gallon/minute"),
    ],
)
def test_flows_are_pints(text: str, theirs: str) -> None:
    expected = in_pint(theirs, "liter/minute")
    assert parse_flow_l_per_min(text) == pytest.approx(expected, rel=1e-12)


def test_falls_are_pints() -> None:
    assert parse_mm_per_h("20mm/h", "hole") == 20.0
    expected = in_pint("1.5 inch/hour", "mm/hour")
    assert parse_mm_per_h("1.5in/h", "hole") == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("text", ["10l 43s", "10 l in 43 s", "10L43s", "1can 43s"])
def test_a_fill_test_is_a_flow(text: str) -> None:
    """10 L in 43 s is 13.95 L/min, the specimen's tap A, said as 14."""
    assert parse_fill_l_per_min(text) == pytest.approx(600 / 43)


def test_a_fill_test_by_the_gardens_gallon() -> None:
    """A 5 US gallon bucket in 80 s: 5 x 3.785411784 x 60/80."""
    assert parse_fill_l_per_min("5gal 80s", gallon="us") == pytest.approx(14.19529419)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("2h", 120), ("45min", 45), ("1h30", 90), ("1 h 30 min", 90), ("1½h", 90), ("90s", 1.5)],
)
def test_stretches_of_time(text: str, minutes: float) -> None:
    assert parse_minutes(text) == minutes


@pytest.mark.parametrize(
    ("text", "fraction"), [("0.25", 0.25), ("1 in 4", 0.25), ("25%", 0.25), ("0", 0), ("1", 1)]
)
def test_parts_of_the_whole(text: str, fraction: float) -> None:
    assert parse_fraction(text, "slope") == fraction


@pytest.mark.parametrize("text", ["6,3,1", "6 3 1", "6, 3, 1", "12/6/2", "1.2;0.6;.2"])
def test_a_jar_is_sand_and_clay(text: str) -> None:
    assert parse_jar(text) == pytest.approx((0.6, 0.1))


@pytest.mark.parametrize(
    ("text", "depth_cm"),
    [("5cm", 5), ("50 mm", 5), ("2in", 5.08), ("12 sacks", 5), ("12bags", 5), ("10x60l", 5)],
)
def test_a_dressing_by_ruler_or_sacks(text: str, depth_cm: float) -> None:
    """A 50 L sack is 1 m2 at 5 cm, by geometry: twelve on 12 m2."""
    assert parse_dressing_cm(text, 12.0) == pytest.approx(depth_cm)


@pytest.mark.parametrize(
    ("parser", "text"),
    [
        (parse_area_m2, "18"),
        (parse_area_m2, "0m2"),
        (parse_area_m2, "18m"),
        (parse_area_m2, "20000m2"),
        (partial(parse_length_m, field="ball"), "45"),
        (partial(parse_length_m, field="ball"), "-45cm"),
        (parse_flow_l_per_min, "14"),
        (parse_flow_l_per_min, "300l/min"),
        (parse_fill_l_per_min, "43"),
        (parse_fill_l_per_min, "10l"),
        (parse_fill_l_per_min, "10l 0s"),
        (parse_fill_l_per_min, "0l 10s"),
        (parse_fill_l_per_min, "10mm 43s"),
        (parse_minutes, "2"),
        (parse_minutes, "1h90"),
        (partial(parse_fraction, field="slope"), "1.2"),
        (partial(parse_fraction, field="slope"), "1 in 0"),
        (partial(parse_fraction, field="slope"), "120%"),
        (parse_jar, "6,3"),
        (parse_jar, "0,0,0"),
        (parse_jar, "6,-3,1"),
        (parse_jar, "a,b,c"),
        (partial(parse_dressing_cm, area_m2=12.0), "0cm"),
        (partial(parse_dressing_cm, area_m2=12.0), "1m"),
        (partial(parse_dressing_cm, area_m2=12.0), "sacks"),
        (partial(parse_dressing_cm, area_m2=12.0), "12x1.2.3l"),
    ],
)
def test_what_cannot_be_right_is_said_of_the_whole_text(
    parser: Callable[[str], object], text: str
) -> None:
    with pytest.raises(InputError) as told:
        parser(text)
    assert told.value.value == text


@given(
    st.sampled_from(PARSERS),
    st.text() | st.from_regex(r"[0-9.,½]{0,6} ?[a-z²/%\"]{0,5} ?[0-9,]{0,4}[a-z]{0,4}"),
)
def test_garbage_never_raises_anything_else(
    refusal: Refusal, parser: Callable[[str], object], text: str
) -> None:
    told = refusal(lambda: parser(text))
    assert told is None or told.value == text


@given(st.floats(0.1, 50), st.floats(0.1, 50), st.floats(0.1, 50))
def test_sand_and_clay_never_pass_the_whole(sand: float, silt: float, clay: float) -> None:
    sand_fraction, clay_fraction = parse_jar(f"{sand:.2f},{silt:.2f},{clay:.2f}")
    assert 0 <= sand_fraction <= 1
    assert 0 <= clay_fraction <= 1
    assert sand_fraction + clay_fraction <= 1 + 1e-12


@pytest.mark.parametrize(
    ("text", "times"), [("0.45", 0.45), ("45%", 0.45), ("120 %", 1.2), ("1.2", 1.2), ("0", 0.0)]
)
def test_times_are_a_number_or_per_cent(text: str, times: float) -> None:
    assert parse_times(text, "rain share") == pytest.approx(times)


@pytest.mark.parametrize("text", ["half", "45%%", "-1", "1,2", "1 in 4"])
def test_what_is_no_number_of_times_is_refused(text: str) -> None:
    with pytest.raises(InputError, match=r"0\.45, 45% or 1\.2"):
        parse_times(text, "rain share")


@pytest.mark.parametrize(
    ("text", "mean_cm", "spots"),
    [
        ("4,5,3,5,4", 4.2, 5),
        ("4 5 3 cm", 4.0, 3),
        ("4.5/3.5", 4.0, 2),
        ("2,1½,2in", 2.54 * 5.5 / 3, 3),
        ("50mm", 5.0, 1),
        ("0,0,0", 0.0, 3),
    ],
)
def test_a_ruler_in_some_spots(text: str, mean_cm: float, spots: int) -> None:
    found_cm, count = parse_spots_cm(text)
    assert found_cm == pytest.approx(mean_cm)
    assert count == spots


@pytest.mark.parametrize(
    ("text", "right"),
    [
        ("4", "4cm"),
        ("4,5", "4.5cm"),
        ("-4cm", "4,5,3,5,4"),
        ("4,-5,3", "4,5,3,5,4"),
        ("", "4,5,3,5,4"),
        ("deep", "4,5,3,5,4"),
        ("4,5,3 l", "4,5,3,5,4"),
    ],
)
def test_a_ruler_that_can_be_read_two_ways_is_refused(text: str, right: str) -> None:
    with pytest.raises(InputError) as refused:
        parse_spots_cm(text)
    assert refused.value.value == text
    assert right in refused.value.right
