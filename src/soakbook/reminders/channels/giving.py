"""Which way a message takes to its person, and that it takes it."""

import shlex

from soakbook.garden.reminding import Channel
from soakbook.reminders.channels.mail import send_mail
from soakbook.reminders.channels.push import send_push
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.ways import Addresses, Reached

NO_SERVER = (
    "no server takes our mail: soakbook remind settings --mail-server HOST:PORT"
    " --mail-user USER --mail-password - --mail-from garden@example.org"
)


def give(
    message: Message, wanted: Channel | None, addresses: Addresses
) -> tuple[Channel | None, Outcome]:
    """The channel that tried a message, and what came of it; None where there is none yet that could.

    A channel that is wanted is not exchanged for another: where the person has no such address, the answer says so.

    Parameters
    ----------
    message : Message
        What is sent; `name` says to whom.
    wanted : Channel, optional
        None: whichever reaches the person, mail before push.
    addresses : Addresses
        All that is known of ways to people.
    """
    reached, server = addresses.people.get(message.name, Reached()), addresses.server
    if wanted != "push" and reached.mail and server is not None:
        return "mail", send_mail(message, reached.mail, server)
    if wanted != "mail" and reached.push:
        return "push", send_push(message, reached.push)
    if wanted != "push" and reached.mail:
        return None, Outcome("later", NO_SERVER)
    return None, Outcome("later", _unreached(message.name, wanted))


def _unreached(name: str, channel: Channel | None) -> str:
    person = f"soakbook person {shlex.quote(name)}"
    if channel == "push":
        return f"{name} has no push address: {person} --push jsons://HOST/PATH"
    kind = "mail address" if channel == "mail" else "address"
    return f"{name} has no {kind}: {person} --mail ann@example.org"
