"""Addresses of the web as typed: what is one, whether it can be right, whose it is, what its file is called.

Nothing is asked here.
"""

import re
from ipaddress import IPv6Address
from urllib.parse import SplitResult, urlsplit

from soakbook.errors import InputError

SCHEMES = ("http://", "https://")
RIGHT = "an address like https://weather.example/shed.csv"
_HOST = re.compile(r"(?!-)[a-z0-9_-]{1,63}(?<!-)(\.(?!-)[a-z0-9_-]{1,63}(?<!-))*\.?", re.IGNORECASE)


def is_address(text: str) -> bool:
    """Whether this names something on the web, rightly or not; all else is a path on this machine."""
    return text.strip().casefold().startswith(SCHEMES)


def check_address(text: str, field: str, right: str = RIGHT) -> str:
    """The address without blanks around it.

    Parameters
    ----------
    text : str
        As typed.
    field : str
        What the gardener calls it.
    right : str
        What would be right.

    Raises
    ------
    InputError
        No http or https, no host or one that no host is called, a port that is none, blanks inside.
    """
    address = text.strip()
    try:
        parts = urlsplit(address)
        good = _is_host(parts) and (parts.port is None or parts.port > 0)
    except ValueError as fault:
        raise InputError(field, shown(text), right) from fault
    if not (is_address(address) and good and address.isprintable() and " " not in address):
        raise InputError(field, shown(text), right)
    return address


def shown(place: str) -> str:
    """A path as it stands; an address, be it none, without name and password and without what is asked there.

    Behind the question mark stand keys, too.
    """
    if "://" not in place:
        return place
    where, asks, _ = place.partition("?")
    return re.sub(r"(?<=://).*@", "...@", where, flags=re.DOTALL) + (f"{asks}..." if asks else "")


def host_of(address: str) -> str:
    """Whom an address asks, for the gardener and for what is remembered of it: without a name or a password in it."""
    return urlsplit(address).netloc.rpartition("@")[2]


def file_name_of(address: str) -> str:
    """What the file at an address is called: the last part of its path, else its host."""
    last = urlsplit(address).path.rstrip("/").rpartition("/")[2]
    return host_of(address) if last in ("", ".", "..") else last


def _is_host(parts: SplitResult) -> bool:
    """Whether the host can be one; what is not ASCII is held to what is sent."""
    host = parts.hostname or ""
    if "[" in parts.netloc:
        IPv6Address(host.partition("%")[0])
        return True
    return _HOST.fullmatch(host.encode("idna").decode("ascii")) is not None
