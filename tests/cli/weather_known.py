"""A report of the weather that a book has, as `--json` gives it."""

from tests.cli.reports import Report

WEATHER: Report = {
    "schema": "soakbook.weather/1",
    "garden": "The Corrody, Marl Hatherby",
    "first": "2031-02-01",
    "last": "2031-05-14",
    "days": 103,
    "sources": [
        {
            "source": "shed",
            "kind": "measured",
            "variables": ["rain", "lowest temperature", "highest temperature"],
            "first": "2031-02-01",
            "last": "2031-05-12",
            "days": 101,
            "age_days": 3,
        },
        {
            "source": "Open-Meteo",
            "kind": "analysed",
            "variables": ["rain"],
            "first": "2031-05-13",
            "last": "2031-05-14",
            "days": 2,
            "age_days": 1,
        },
    ],
    "as_forecast": [
        {
            "source": "MET Norway",
            "issued_at": "2031-05-13T06:13:00+01:00",
            "variables": ["reference evaporation"],
            "first": "2031-05-14",
            "last": "2031-05-14",
            "days": 1,
            "say": "MET Norway, issued 13 May 06:13",
        }
    ],
    "read": [
        {
            "variable": "rain",
            "method": "made of rows of 1 h",
            "first": "2031-02-01",
            "last": "2031-05-12",
            "days": 101,
        },
        {
            "variable": "wind",
            "method": "made of rows of 1 h",
            "first": "2031-02-01",
            "last": "2031-05-12",
            "days": 101,
        },
    ],
    "filled": [
        {
            "variable": "temperature",
            "method": "mean of the days either side",
            "first": "2031-03-05",
            "last": "2031-03-06",
            "days": 2,
        }
    ],
    "missing": [
        {"variable": "rain", "first": "2031-03-05", "last": "2031-03-05", "days": 1},
    ],
    "findings": [
        {
            "kind": "weather_gap",
            "bed": None,
            "say": "No rain value for 5 March: not the same as dry.",
        }
    ],
    "asked": ["Open-Meteo: 7 days analysed, to 14 May and forecast to 30 May in 51 futures."],
    "dry": {
        "useful_rain_on": "2031-03-05",
        "dry_days": 12,
        "asked_less_rain_mm": 138.2,
        "since": "2031-03-01",
        "words": ["dry spell"],
        "say": ["No useful rain for 69 days, since 5 March."],
    },
    "forecast": {
        "source": "Open-Meteo",
        "issued_at": "2031-05-15T05:12:00+01:00",
        "to": "2031-05-30",
        "futures": 51,
        "age_hours": 2,
        "say": "Open-Meteo, issued 15 May 05:12: to 30 May, in 51 futures.",
    },
    "week": "To Wed 21 no useful rain likely; warm from Sun.",
    "heat": "",
    "credits": ["Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0."],
}
