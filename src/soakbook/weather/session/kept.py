"""Where answers are kept: one SQLite file in the user's cache folder, and what is done when it cannot be used.

Of sqlite3 the errors that requests_cache lets through are named, and the one setting by which a locked file is not
waited for without end. Nothing here is needed: without the file every question goes to its service.
"""

import logging
import os
import sqlite3
from pathlib import Path
from time import monotonic, sleep
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from requests.adapters import HTTPAdapter
    from requests_cache import CachedSession
    from requests_cache.backends.base import BaseCache

FILE_NAME = "answers.sqlite"
BIGGEST_FILE_BYTES = 200_000_000  # some years of mornings; then it is begun anew
WAIT_S = 0.02
SECRETS = ("apiKey", "appid", "auth", "key", "password", "secret", "sig", "signature", "token")
"""Names of secrets in addresses besides those that requests_cache knows: never on disk."""


class Locked(sqlite3.DatabaseError):
    """The file cannot be written now. No OperationalError: at that requests_cache tries again without end."""


class _Connection(sqlite3.Connection):
    def execute(self, sql: str, parameters: Any = (), /) -> sqlite3.Cursor:
        try:
            return super().execute(sql, parameters)
        except sqlite3.OperationalError as fault:
            if sql.startswith("BEGIN"):
                raise Locked(str(fault)) from fault
            raise


def session_over(
    backend: "BaseCache | str", user_agent: str, adapter: "HTTPAdapter"
) -> "CachedSession":
    """Session that keeps answers in a backend of requests_cache, of which "memory" forgets them at the end."""
    from requests_cache import DEFAULT_IGNORED_PARAMS, CachedSession

    _hush()
    session = CachedSession(
        backend=backend,
        allowable_codes=(200, 203),
        allowable_methods=("GET",),
        cache_control=True,
        ignored_parameters=(*DEFAULT_IGNORED_PARAMS, *SECRETS),
    )
    session.headers["User-Agent"] = user_agent
    for scheme in ("https://", "http://"):
        session.mount(scheme, adapter)
    return session


def file_of_answers(path: Path, busy_s: float) -> "tuple[BaseCache | str, tuple[str, ...]]":
    """Backend over the file, or "memory" where it cannot be had, and what is to be said of it."""
    _hush()
    findings: tuple[str, ...] = ()
    ends_at = monotonic() + busy_s
    while True:
        try:
            _prepare(path)
            return _backend(path, busy_s), findings
        except (OSError, sqlite3.Error) as fault:
            if getattr(fault, "sqlite_errorcode", None) == sqlite3.SQLITE_BUSY:
                # While another process makes the file, SQLite says so at once and does not wait.
                if monotonic() < ends_at:
                    sleep(WAIT_S)
                    continue
                return "memory", (*findings, not_kept(path, fault))
            unbroken = isinstance(fault, OSError | sqlite3.OperationalError | Locked)
            if findings or (unbroken and not path.is_dir()):
                return "memory", (*findings, not_kept(path, fault))
            findings = put_aside(path)


def put_aside(path: Path) -> tuple[str, ...]:
    """Make room for a new file, and say so. What lies beside it SQLite clears when the new one is empty."""
    aside = path.with_name(f"{path.name}.broken")
    try:
        aside.unlink(missing_ok=True)
        path.rename(aside)
    except OSError as fault:
        return (not_kept(path, fault),)
    return (
        f"answers of weather services could not be read again and are kept anew; the old file is {aside}",
    )


def not_kept(path: Path, fault: Exception) -> str:
    """What is said when answers are kept for this run alone."""
    return f"answers of weather services are not kept past this run: {path}: {fault}"


def _backend(path: Path, busy_s: float) -> "BaseCache":
    from requests_cache.backends.sqlite import SQLiteCache

    return SQLiteCache(
        path,
        serializer="json",  # pickle would run what somebody else laid there
        busy_timeout=round(1000 * busy_s),
        wal=True,
        factory=_Connection,
    )


def _hush() -> None:
    """Keep the libraries from writing addresses and tracebacks on the screen or into a log."""
    for name in ("requests_cache", "urllib3"):
        logger = logging.getLogger(name)
        logger.addHandler(logging.NullHandler())
        logger.propagate = False


def _prepare(path: Path) -> None:
    """A folder and a file that are the user's alone before anything is in them."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    if path.is_file() and path.stat().st_size > BIGGEST_FILE_BYTES:
        path.unlink()
    try:
        path.touch(mode=0o600)
        path.chmod(0o600)
    except PermissionError:
        if not os.access(path, os.R_OK):
            raise
