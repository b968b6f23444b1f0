"""What a bad status means, and how long a service is left alone."""

from datetime import UTC, datetime, timedelta

import pytest

from soakbook.weather.refusals import QuestionError, trouble_of_status, wait_until

NOW = datetime(2031, 5, 15, 21, 30, tzinfo=UTC)
JSON = {"Content-Type": "application/json; charset=utf-8"}


@pytest.mark.parametrize(
    ("retry_after", "reason", "until"),
    [
        ("120", "", NOW + timedelta(seconds=120)),
        (" 120 ", "try again tomorrow", NOW + timedelta(seconds=120)),
        ("Thu, 15 May 2031 22:00:00 GMT", "", datetime(2031, 5, 15, 22, tzinfo=UTC)),
        ("Thu, 15 May 2031 23:00:00 +0100", "", datetime(2031, 5, 15, 22, tzinfo=UTC)),
        ("Thu, 15 May 2031 20:00:00 GMT", "", NOW),
        ("999999999", "", NOW + timedelta(days=1)),
        ("99999999999999999999", "", NOW + timedelta(hours=1)),
        ("-5", "", NOW + timedelta(hours=1)),
        ("soon", "", NOW + timedelta(hours=1)),
        ("Thu, 32 May 2031 22:00:00 GMT", "", NOW + timedelta(hours=1)),
        ("", "", NOW + timedelta(hours=1)),
        (None, "", NOW + timedelta(hours=1)),
        (None, "Too many concurrent requests", NOW + timedelta(hours=1)),
        (
            None,
            "Minutely API request limit exceeded. Please try again in one minute.",
            NOW + timedelta(minutes=1),
        ),
        (
            None,
            "Hourly API request limit exceeded. Please try again in the next hour.",
            NOW + timedelta(hours=1),
        ),
        (
            None,
            "Daily API request limit exceeded. Please try again tomorrow.",
            datetime(2031, 5, 16, 0, 5, tzinfo=UTC),
        ),
    ],
)
def test_how_long_to_wait(retry_after: str | None, reason: str, until: datetime) -> None:
    """The reasons as Open-Meteo's server words them."""
    assert wait_until(retry_after, reason, NOW) == until


@pytest.mark.parametrize(
    ("status", "kind", "wait"),
    [
        (400, "refused", None),
        (401, "refused", timedelta(days=1)),
        (403, "refused", timedelta(days=1)),
        (404, "refused", None),
        (408, "down", None),
        (422, "refused", None),
        (429, "busy", timedelta(hours=1)),
        (499, "down", None),
        (500, "down", None),
        (503, "down", None),
        (204, "rubbish", None),
        (304, "rubbish", None),
    ],
)
def test_kinds(status: int, kind: str, wait: timedelta | None) -> None:
    trouble = trouble_of_status("Skywatch", status, {}, b"", NOW)
    assert trouble.kind == kind
    assert trouble.not_before == (None if wait is None else NOW + wait)
    assert f"status {status}" in trouble.say
    assert isinstance(trouble, QuestionError) is (status in (400, 404, 422))


def test_a_service_that_is_down_may_say_for_how_long() -> None:
    trouble = trouble_of_status("Skywatch", 503, {"Retry-After": "60"}, b"", NOW)
    assert trouble.not_before == NOW + timedelta(minutes=1)


@pytest.mark.parametrize(
    ("content", "say"),
    [
        (b'{"error":true,"reason":"Invalid timezone"}', "(status 400: Invalid timezone)"),
        (b'{"reason":"one\\ntwo\\u001b[31m  three"}', "(status 400: one two [31m three)"),
        (b'{"reason":7}', "(status 400)"),
        (b'["reason"]', "(status 400)"),
        (b"{", "(status 400)"),
        (b"[" * 100_000, "(status 400)"),
        (b"\xff\xfe", "(status 400)"),
    ],
)
def test_its_own_reason(content: bytes, say: str) -> None:
    assert trouble_of_status("Skywatch", 400, JSON, content, NOW).say.endswith(say)


def test_a_long_reason_is_cut() -> None:
    content = b'{"reason":"' + b"x" * 5000 + b'"}'
    assert len(trouble_of_status("Skywatch", 400, JSON, content, NOW).say) < 260


def test_a_page_is_never_shown() -> None:
    content = b'{"reason":"looks like JSON"}'
    trouble = trouble_of_status("Skywatch", 400, {"Content-Type": "text/html"}, content, NOW)
    assert "looks" not in trouble.say
