"""The proof in words, the same for the page on the screen, the HTML and the PDF: texts in their order, nothing set.

Everything is made of the report as `--json` gives it, so a page can be made anew from the data it carries. Numbers
stand as they are in the data, not rounded for the hand: they are to be added up.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from soakbook.quantities.dates import WEEKDAYS, month_day
from soakbook.quantities.saying import counted, names, sentence

Report = Mapping[str, Any]

METHODS = {
    "can": "by can", "lance": "with the lance", "spray": "with the spray", "drip": "by drip",
    "broadcast": "over the whole bed",
}  # fmt: skip
KINDS = {
    "soak": "watered", "rescue": "watered to rescue", "re_wet": "re-wetted", "water_in": "watered in",
}  # fmt: skip
WEATHER_KINDS = {
    "gauge": " by the gauge", "measured": "", "analysed": " analysed", "forecast": " forecast only",
    "filled": " filled in",
}  # fmt: skip
SOURCES = {"mains": "mains", "butt": "butts", "tank": "tank", "barrow": "barrow"}
NOBODY = "nobody named"
FOOT_DIGITS = 12
"""Of the digest, at the foot of each page: enough to tell whose a loose sheet is."""
HOW_TO_VERIFY = "soakbook proof --verify FILE checks this file against its digest, and against the book if it is there."


def proof_words(report: Report) -> dict[str, Any]:
    """Headings, sentences, tables and days of a proof.

    Parameters
    ----------
    report : mapping
        A proof as `--json` gives it.
    """
    span, garden, totals = report["span"], report["garden"], report["totals"]
    first, last = date.fromisoformat(span["first"]), date.fromisoformat(span["last"])
    days = f"{_day(first)} to {_day(last)}" if first != last else _day(first)
    return {
        "title": f"The proof: {garden['name']}, {days}",
        "heading": "The proof",
        "garden": garden["name"],
        "place": _place(garden),
        "days": days,
        "foot": f"{garden['name']}, the proof of {days}. SHA-256 {report['sha256'][:FOOT_DIGITS]}...",
        "totals": _totals(report),
        "beds": [
            [
                one["name"], str(one["watered"]), str(one["left"]), str(one["looked"]),
                number(one["litres"]), number(one["minutes"]),
            ]
            for one in totals["by_bed"]
        ],
        "beds_sum": [
            "in all", str(totals["watered"]), str(totals["left"]), str(totals["looked"]),
            number(totals["litres"]), number(totals["minutes"]),
        ],
        "people": [
            [
                one["by"] or NOBODY, str(one["visits"]), number(one["litres"]),
                number(round(one["minutes_on_foot"], 1)),
            ]
            for one in totals["by_person"]
        ],
        "sources": [
            [SOURCES[one["source"]], str(one["watered"]), number(one["litres"])]
            for one in totals["by_source"]
        ],
        "blocks": list(_blocks(report)),
        "rules": [_rule(one) for one in report["rules"]],
        "findings": [one["say"] for one in report["findings"]],
        "cautions": [*report["cautions"], *report["credits"]],
        "digest": report["sha256"],
        "digest_of": (
            "SHA-256 of the data of this proof as canonical JSON (RFC 8785), without the digest itself:"
        ),
        "verify": HOW_TO_VERIFY,
        "made_with": report["made_with"],
    }  # fmt: skip


def number(value: float) -> str:
    """`17`, `1,234.5`: all of its digits, three behind the point at most."""
    whole, _, rest = f"{value:,.3f}".partition(".")
    return f"{whole}.{rest}".rstrip("0").rstrip(".")


def _totals(report: Report) -> list[str]:
    totals, days = report["totals"], report["span"]["days"]
    on_foot = totals["minutes_on_foot"]
    return [
        f"{counted(totals['visits'], 'visit')} on {totals['visit_days']} of {counted(days, 'day')}: "
        f"{totals['watered']} watered, {totals['left']} looked at and left, {totals['looked']} only felt or looked at.",
        f"Given {number(totals['litres'])} L in {counted(totals['soaks'], 'watering')}; tap open "
        f"{number(totals['minutes'])} min; on foot about {number(round(on_foot))} min.",
        f"Rain {_sum(totals['rain_mm'], totals['rain_days_unknown'])}; the air asked for "
        f"{_sum(totals['et0_mm'], totals['et0_days_unknown'])}.",
    ]


def _sum(total_mm: float | None, unknown: int) -> str:
    if total_mm is None:
        return "not known"
    gaps = f" (not known of {counted(unknown, 'day')})" if unknown else ""
    return f"{number(total_mm)} mm{gaps}"


def _place(garden: Report) -> str:
    north, east = garden["latitude_deg"], garden["longitude_deg"]
    return (
        f"{abs(north):g}° {'N' if north >= 0 else 'S'}, {abs(east):g}° {'E' if east >= 0 else 'W'}; "
        f"days and hours of {garden['timezone']}"
    )


def _blocks(report: Report) -> Iterator[dict[str, Any]]:
    """Days and rests in the order of time."""
    every = [(one["day"], one) for one in report["days"]]
    every += [(one["first"], one) for one in report["rests"]]
    for _, one in sorted(every, key=lambda pair: pair[0]):
        yield _rest(one) if "first" in one else _day_block(one)


def _rest(rest: Report) -> dict[str, Any]:
    first, last = date.fromisoformat(rest["first"]), date.fromisoformat(rest["last"])
    days = (
        _day(first)
        if first == last
        else f"{_weekday(first)} {month_day(first)} to {_day(last)}, {counted(rest['days'], 'day')}"
    )
    rain = "rain not known" if rest["rain_mm"] is None else f"rain {number(rest['rain_mm'])} mm"
    asked = "" if rest["et0_mm"] is None else f", the air asked for {number(rest['et0_mm'])} mm"
    return {"rest": f"{days}: nothing entered; {rain}{asked}"}


def _day_block(day: Report) -> dict[str, Any]:
    return {
        "rest": "",
        "day": _day(date.fromisoformat(day["day"])),
        "weather": _weather(day["weather"]),
        "gauge": [_reading(one) for one in day["gauge"]],
        "visits": [_visit(one, day["day"]) for one in day["visits"]],
    }


def _weather(weather: Report) -> str:
    rain, asked = weather["rain_mm"], weather["et0_mm"]
    parts = [f"rain {number(rain['value'])} mm{WEATHER_KINDS[rain['kind']]}" if rain else ""]
    parts += [_warmth(weather["tmin_c"], weather["tmax_c"])]
    if asked:
        parts.append(f"the air asked for {number(asked['value'])} mm{WEATHER_KINDS[asked['kind']]}")
    return "; ".join(filter(None, parts)) or "weather not known"


def _warmth(low: Report | None, high: Report | None) -> str:
    kinds = {WEATHER_KINDS[one["kind"]] for one in (low, high) if one}
    kind = " and".join(sorted(kinds - {""}))
    if low and high:
        return f"{low['value']:g} to {high['value']:g} °C{kind}"
    if high:
        return f"up to {high['value']:g} °C{kind}"
    return f"down to {low['value']:g} °C{kind}" if low else ""


def _reading(one: Report) -> str:
    by = f", {one['by']}" if one["by"] else ""
    began, at = one["began_at"], one["at"]
    since = f"{began[11:16]}" if began[:10] == at[:10] else _stamp(began)
    return f"gauge read {at[11:16] or 'that day'}: {number(one['rain_mm'])} mm since {since}{by}"


def _visit(visit: Report, day: str) -> dict[str, Any]:
    is_watered = visit["what"] == "watered"
    return {
        "at": visit["at"][11:16] if visit["at"] else "",
        "bed": visit["name"],
        "what": visit["what"],
        "how": _how(visit),
        "more": " ".join(map(sentence, _more(visit, day))),
        "litres": number(visit["litres"]) if is_watered else "",
        "minutes": _minutes(visit) if is_watered else "",
        "known": visit["minutes"] is not None,
        "by": visit["by"] or NOBODY,
    }


def _minutes(visit: Report) -> str:
    return "not known" if visit["minutes"] is None else number(visit["minutes"])


def _how(visit: Report) -> str:
    if visit["what"] == "left":
        return f"looked at and left: {visit['reason']}"
    plantings = names(visit["plantings"])
    if visit["what"] == "looked":
        return f"looked at: {plantings}" if plantings else "looked at"
    methods = names([METHODS[one] for one in visit["methods"]])
    kinds = names([KINDS[one] for one in visit["kinds"]])
    tap = f", tap {visit['tap']}" if visit["tap"] else ""
    if visit["source"] != "mains":
        tap = f", from the {SOURCES[visit['source']]}"
    times = f", {visit['soaks']} times" if visit["soaks"] > max(1, len(visit["plantings"])) else ""
    to = f": {plantings}" if plantings else ""
    return f"{kinds} {methods}{tap}{times}{to}"


def _more(visit: Report, day: str) -> Iterator[str]:
    """What was found, and what is to be known of how it was written down."""
    for felt in visit["felt"]:
        what = [f"{store} {felt[store]}" for store in ("ball", "bed") if felt[store]]
        whose = f" ({felt['planting']})" if felt["planting"] and not visit["plantings"] else ""
        yield f"felt {', '.join(what)}{', unsure' if felt['unsure'] else ''}{whose}"
    if visit["leaves"]:
        yield f"leaves {visit['leaves']}"
    if visit["wet_to_cm"] is not None:
        yield f"a hole was wet to {number(visit['wet_to_cm'])} cm"
    if visit["note"]:
        yield f"note: {visit['note']}"
    if visit["written_at"][:10] > day:
        yield f"written {_stamp(visit['written_at'])}"
    if visit["corrected"]:
        yield "corrected since"


def _rule(rule: Report) -> str:
    first, last = date.fromisoformat(rule["first"]), date.fromisoformat(rule["last"])
    tool = "everything" if rule["tool"] == "all" else rule["tool"]
    source = "any source" if rule["source"] == "all" else rule["source"]
    return (
        f"Barred {month_day(first)} {first.year} to {month_day(last)} {last.year}: {tool} from {source}. "
        f"\N{LEFT DOUBLE QUOTATION MARK}{rule['text']}\N{RIGHT DOUBLE QUOTATION MARK}"
    )


def _stamp(moment: str) -> str:
    day = date.fromisoformat(moment[:10])
    return f"{_weekday(day)} {month_day(day)} {moment[11:16]}".rstrip()


def _day(day: date) -> str:
    return f"{_weekday(day)} {month_day(day)} {day.year}"


def _weekday(day: date) -> str:
    return WEEKDAYS[day.weekday()][:3]
