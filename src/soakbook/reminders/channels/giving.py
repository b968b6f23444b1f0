"""Which way a message takes to its person, and that it takes it."""

import shlex

from soakbook.garden.reminding import Channel
from soakbook.reminders.channels.mail import send_mail
from soakbook.reminders.channels.push import send_push
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.ways import Addresses, Reached

NO_SERVER = (
    "no server takes our mail: soakbook remind settings --mail-server HOST:PORT"
    " --mail-user USER --mail-password PASSWORD --mail-from garden@example.org"
)


def give(
    message: Message, wanted: Channel | None, addresses: Addresses
) -> tuple[Channel | None, Outcome]:
    """The channel that a message took, and what came of it; who cannot be reached yet is told later.

    A channel that is wanted is not exchanged for another: where the person has no such address, the answer says so.

    Parameters
    ----------
    message : Message
        What is sent; `name` says to whom.
    wanted : Channel, optional
        None: whichever the person has, mail before push.
    addresses : Addresses
        All that is known of ways to people.
    """
    reached = addresses.people.get(message.name, Reached())
    channel = wanted or ("mail" if reached.mail else "push" if reached.push else None)
    if channel == "mail" and reached.mail:
        if addresses.server is None:
            return channel, Outcome("later", NO_SERVER)
        return channel, send_mail(message, reached.mail, addresses.server)
    if channel == "push" and reached.push:
        return channel, send_push(message, reached.push)
    return channel, Outcome("later", _unreached(message.name, channel))


def _unreached(name: str, channel: Channel | None) -> str:
    person = f"soakbook person {shlex.quote(name)}"
    if channel == "push":
        return f"{name} has no push address: {person} --push jsons://HOST/PATH"
    kind = "mail address" if channel == "mail" else "address"
    return f"{name} has no {kind}: {person} --mail ann@example.org"
