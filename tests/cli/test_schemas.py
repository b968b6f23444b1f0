"""The reports' JSON Schemas: sound, closed, and the same as the records they describe."""

import json
import types
import typing
from datetime import date
from typing import Any

import jsonschema
import pytest

from soakbook.account.frames import FRAMES
from soakbook.account.proof_record import PROOF_SCHEMA, Proof
from soakbook.account.verifying import VERIFIED_SCHEMA, Verified
from soakbook.cli.main import main
from soakbook.cli.options import SCHEMAS
from soakbook.reckoning.advice.report import ROUND_SCHEMA, Round, as_json, field_names
from soakbook.reckoning.advice.report import Band as BandRecord
from soakbook.reckoning.advice.triage import Triage
from soakbook.reckoning.advice.why_report import WHY_SCHEMA, Why
from soakbook.reminders.report import REMIND_SCHEMA, RemindReport
from soakbook.reminders.setting import SETTINGS_SCHEMA, SettingsReport
from soakbook.services.book_log import LOG_SCHEMA, Log
from soakbook.services.lists.report import LIST_SCHEMA, ListReport
from soakbook.truth.report import TRUTH_SCHEMA, TruthReport
from soakbook.truth.watering.report import WATER_SCHEMA, Water
from tests.cli.reports import (
    BEDS,
    TOLD,
    Report,
    a_round,
    a_why,
    call,
    planting_why,
    resting,
)
from tests.cli.weather_known import WEATHER
from tests.cli.wet_morning import wet_morning

NAMES = (
    "account",
    "beds",
    "check",
    "list",
    "log",
    "promises",
    "proof",
    "remind",
    "reminders",
    "round",
    "told",
    "truth",
    "verified",
    "water",
    "weather",
    "why",
)
RECORDS = {
    "list": (ListReport, LIST_SCHEMA),
    "log": (Log, LOG_SCHEMA),
    "proof": (Proof, PROOF_SCHEMA),
    "remind": (RemindReport, REMIND_SCHEMA),
    "reminders": (SettingsReport, SETTINGS_SCHEMA),
    "round": (Round, ROUND_SCHEMA),
    "truth": (TruthReport, TRUTH_SCHEMA),
    "verified": (Verified, VERIFIED_SCHEMA),
    "water": (Water, WATER_SCHEMA),
    "why": (Why, WHY_SCHEMA),
}
OPEN = {"told.changed", "account.ways_of_beds", "account.Totals.by_source_l"}
"""What an entry changed differs from kind to kind; beds and sources of water are their own keys."""


def schema(name: str) -> Report:
    found: Report = json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8"))
    return found


def objects(node: Any, path: str) -> list[tuple[str, Report]]:
    """Every object a schema describes, with the way to it."""
    if isinstance(node, list):
        return [found for one in node for found in objects(one, path)]
    if not isinstance(node, dict):
        return []
    here = [(path, node)] if node.get("type") == "object" else []
    below = {**node.get("properties", {}), **node.get("$defs", {})}
    return here + [found for key, one in below.items() for found in objects(one, f"{path}.{key}")]


def validate(report: Report, name: str) -> None:
    jsonschema.validate(
        report, schema(name), format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_is_sound_and_says_its_name_and_version(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(schema(name))
    assert schema(name)["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema(name)["$id"] == f"urn:soakbook:{name}:1"
    assert schema(name)["properties"]["schema"]["const"] == f"soakbook.{name}/1"


def test_there_are_no_others() -> None:
    assert sorted(path.stem for path in SCHEMAS.iterdir()) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_every_object_is_closed_whole_and_explained(name: str) -> None:
    for path, node in objects(schema(name), name):
        if path in OPEN:
            continue
        assert node["additionalProperties"] is False, path
        assert node["required"] == list(node["properties"]), path
        for key, one in node["properties"].items():
            assert one["description"], f"{path}.{key}"


@pytest.mark.parametrize("name", RECORDS)
def test_a_schema_is_its_record_field_by_field(name: str) -> None:
    """Names, order, types, words and nulls; descriptions and bounds are the schema's own."""
    record, const = RECORDS[name]
    whole = schema(name)
    defined: dict[str, Report] = {}
    expected = described(record, defined)
    expected["properties"]["schema"] = {"const": const}
    found = {key: whole[key] for key in expected}
    assert stripped(found) == expected
    assert stripped(whole["$defs"]) == dict(sorted(defined.items()))


@pytest.mark.parametrize("frame", [name for name in FRAMES if name != "days"])
def test_the_account_s_rows_are_those_of_its_frames(frame: str) -> None:
    node = schema("account")["properties"][frame]["items"]
    row = schema("account")["$defs"][node["$ref"].rsplit("/", 1)[1]] if "$ref" in node else node
    assert row["required"] == list(FRAMES[frame])


def test_where_the_asking_after_a_wilt_stands_is_described_as_it_is() -> None:
    expected = described(Triage, {})
    expected["required"].remove("say")
    del expected["properties"]["say"]
    assert stripped(schema("told")["$defs"]["Triage"]) == expected


@pytest.mark.parametrize(
    ("triage", "fits"),
    [
        (None, True),
        ({"step": "dusk", "action": "shade", "ask": "Do they stand at dusk?"}, True),
        ({"step": "dusk", "action": "shade"}, False),
        ({"step": "noon", "action": "shade", "ask": None}, False),
        ({"step": "done", "action": "drench", "ask": None}, False),
    ],
)
def test_a_wilt_told_is_held_to_it(triage: Report | None, fits: bool) -> None:
    told = TOLD | {"what": "wilt", "changed": {"triage": triage}}
    if fits:
        validate(told, "told")
    else:
        with pytest.raises(jsonschema.ValidationError):
            validate(told, "told")


def described(record: type, defined: dict[str, Report]) -> Report:
    """The schema of a record, as its annotations have it."""
    kinds = typing.get_type_hints(record)
    names = list(field_names(record))
    return {
        "type": "object",
        "additionalProperties": False,
        "required": names,
        "properties": {name: of_kind(kinds[name], defined) for name in names},
    }


def of_kind(kind: Any, defined: dict[str, Report]) -> Report:
    """The schema of one field's annotation."""
    plain = {str: "string", bool: "boolean", int: "integer", float: "number"}
    if kind in plain:
        return {"type": plain[kind]}
    if kind is date:
        return {"type": "string", "format": "date"}
    origin, inside = typing.get_origin(kind), typing.get_args(kind)
    if origin is typing.Literal:
        return {"enum": list(inside)}
    if origin is tuple:
        return {"type": "array", "items": of_kind(inside[0], defined)}
    if origin in (types.UnionType, typing.Union):
        assert inside[1] is type(None)
        return or_null(of_kind(inside[0], defined))
    assert isinstance(kind, type), kind
    assert field_names(kind), kind
    name = kind.__name__
    if name not in defined:
        defined[name] = {}
        defined[name].update(described(kind, defined))
    return {"$ref": f"#/$defs/{name}"}


def or_null(node: Report) -> Report:
    if "enum" in node:
        return {"enum": [*node["enum"], None]}
    if "$ref" in node:
        return {"anyOf": [node, {"type": "null"}]}
    return {**node, "type": [node["type"], "null"]}


def stripped(node: Any) -> Any:
    """A schema without what annotations do not say."""
    if isinstance(node, list):
        return [stripped(one) for one in node]
    if not isinstance(node, dict):
        return node
    own = {"description", "minimum"}
    return {
        key: stripped(value)
        for key, value in node.items()
        if key not in own or not isinstance(value, str | int)
    }


@pytest.mark.parametrize(
    ("name", "report"),
    [
        ("round", wet_morning()),
        ("round", a_round(calls=[call(), resting()], gauge=None, tomorrow=None, question=None)),
        ("why", a_why(plantings=[planting_why(), planting_why(ball=None)], rain=None, felt=None)),
        ("told", TOLD),
        ("beds", BEDS),
        ("weather", WEATHER),
    ],
)
def test_reports_written_by_hand_keep_to_their_schema(name: str, report: Report) -> None:
    validate(report, name)


@pytest.mark.parametrize(
    "changes",
    [
        {"schema": "soakbook.round/2"},
        {"morning": "15 May"},
        {"calls": [call(verdict="wait")]},
        {"calls": [call(litres=-1.0)]},
        {"calls": [call(order=0)]},
        {"calls": [{**call(), "more": 1}]},
        {"calls": [{key: value for key, value in call().items() if key != "aim"}]},
    ],
    ids=["version", "date", "word", "below nothing", "order", "unknown key", "missing key"],
)
def test_a_wrong_round_is_refused(changes: Report) -> None:
    with pytest.raises(jsonschema.ValidationError):
        validate(a_round(**changes), "round")


def test_records_and_dates_become_plain() -> None:
    plain = as_json({"on": date(2031, 5, 15), "of": (BandRecord(0.1, 0.2, 0.3),)})
    assert plain == {"on": "2031-05-15", "of": [{"p10": 0.1, "p50": 0.2, "p90": 0.3}]}


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("weather", "weather"),
        ("weather --offline", "weather"),
        ("weather --promises", "promises"),
        ("weather shed.csv --gaps", "told"),
        ("bed", "beds"),
        ("bed chapel --specimen", "beds"),
        ("bed chapel --jam-jar 6mm --gauge 14mm", "told"),
        ("bed chapel --area 18m2 --by Ann", "told"),
        ("rain 4mm", "told"),
        ("plant --from plan.csv", "list"),
        ("bed --from beds.csv --dry-run", "list"),
        ("plant chapel rose 6", "told"),
        ("tap A", "told"),
        ("person Tom", "told"),
        ("restriction 1jul 1aug", "told"),
        ("rate 1jan water 4", "told"),
        ("book new", "told"),
        ("book new Corrody --lat 52.3", "told"),
        ("book copy may.book", "told"),
        ("account 2031", "account"),
        ("proof 1apr 30sep", "proof"),
        ("proof --verify may.pdf", "verified"),
        ("round", "round"),
        ("why chapel", "why"),
    ],
)
@pytest.mark.parametrize("first", [True, False])
def test_the_schema_that_is_printed_is_of_what_the_same_words_would_print(
    words: str, name: str, first: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = words.split()
    command = 2 if typed[0] == "book" else 1
    typed.insert(command if first else len(typed), "--json-schema")
    assert main(typed) == 0
    assert json.loads(capsys.readouterr().out) == schema(name)
