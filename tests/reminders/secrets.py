"""What no test may find outside the file of addresses and the line it was meant for."""

from base64 import b64encode

PASSWORD = "hollyhock-9-Gießkanne"
USER = "garden@example.org"
TOKEN = "tk_q8Zr41VbX0mlw7"
PLAIN = b64encode(f"\0{USER}\0{PASSWORD}".encode()).decode()
"""The login as it goes over the line (RFC 4616)."""

SECRETS = (PASSWORD, TOKEN, PLAIN, b64encode(PASSWORD.encode()).decode())


def gives_away(text: object) -> list[str]:
    """Secrets that stand in a text, or in what is shown of a thing."""
    said = f"{text} {text!r}"
    return [secret for secret in SECRETS if secret in said]
