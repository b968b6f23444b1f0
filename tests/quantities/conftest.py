"""What the tests of parsers share."""

from collections.abc import Callable

import pytest

from soakbook.errors import InputError

Refusal = Callable[[Callable[[], object]], InputError | None]


@pytest.fixture(scope="session")
def refusal() -> Refusal:
    """The InputError a call raises, or None; anything else it raises fails the test."""

    def told_by(call: Callable[[], object]) -> InputError | None:
        try:
            call()
        except InputError as told:
            return told
        return None

    return told_by
