"""Rules that the round keeps to, and prices."""

from datetime import date
from pathlib import Path

from soakbook.services.mornings import round_report
from soakbook.services.setup import rate, restriction
from tests.services.looking import NOW, Refused, pages_of, said


def test_a_rule_turns_beds_to_cans(garden: Path) -> None:
    answer = restriction(
        garden, "14may", "5sep", now=NOW, tool="hose", source="mains", text="No hosepipe."
    )
    (rule,) = pages_of(garden).restrictions
    assert (rule.first, rule.last, rule.text) == (
        date(2031, 5, 14),
        date(2031, 9, 5),
        "No hosepipe.",
    )
    assert "By can in those days: Chapel Wall, Dole Bed, Schoolroom and Yard" in said(answer)
    calls = {call["bed"]: call for call in round_report(garden, now=NOW)["calls"]}
    assert calls["chapel"]["means"] == "cans"


def test_a_rule_without_its_words_is_refused(garden: Path) -> None:
    with Refused(garden, "tool", None, "what is barred"):
        restriction(garden, "14may", "5sep", now=NOW, source="mains", text="No.")
    with Refused(garden, "text", " ", "in its own words"):
        restriction(garden, "14may", "5sep", now=NOW, tool="hose", source="mains", text=" ")
    with Refused(garden, "tool", "bucket", "one of hose, can"):
        restriction(garden, "14may", "5sep", now=NOW, tool="bucket", source="mains", text="No.")


def test_a_price_holds_from_a_day_on(garden: Path) -> None:
    answer = rate(garden, "1apr", "water", "4.00", now=NOW)
    rate(garden, "1apr", "hour", "14", now=NOW, currency="gbp")
    rate(garden, "1apr", "water", "4.20", now=NOW)
    rates = pages_of(garden).rates
    assert [(one.what, one.price, one.currency) for one in rates] == [
        ("water", 4.2, "GBP"),
        ("hour", 14.0, "GBP"),
    ]
    assert said(answer) == "From 1 April 2031 a cubic metre of water costs 4.00 GBP."


def test_a_price_that_cannot_be_is_refused(garden: Path) -> None:
    with Refused(garden, "price", "4,00", "4.00"):
        rate(garden, "1apr", "water", "4,00", now=NOW)
    with Refused(garden, "what", "gas", "one of water, hour"):
        rate(garden, "1apr", "gas", "4", now=NOW)
    with Refused(garden, "currency", "pounds", "three letters"):
        rate(garden, "1apr", "water", "4", now=NOW, currency="pounds")


def test_a_currency_is_said_once(garden: Path) -> None:
    rate(garden, "1apr", "water", "4.00", currency="eur", now=NOW)
    rate(garden, "1apr", "hour", "14.00", now=NOW)
    assert [one.currency for one in pages_of(garden).rates] == ["EUR", "EUR"]


def test_a_rule_without_its_tool_says_what_is_missing(garden: Path) -> None:
    with Refused(garden, "tool", None, "what is barred"):
        restriction(garden, "18jul", "5sep", source="mains", text="No hose.", now=NOW)
