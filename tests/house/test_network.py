"""No test leaves this machine."""

import socket

import pytest
from pytest_socket import SocketConnectBlockedError


def test_the_network_is_shut() -> None:
    """192.0.2.1 is kept for documentation (RFC 5737, section 3) and belongs to nobody."""
    with socket.socket() as door:
        door.settimeout(1)
        with (
            pytest.warns(UserWarning, match="192.0.2.1"),
            pytest.raises(SocketConnectBlockedError),
        ):
            door.connect(("192.0.2.1", 80))
