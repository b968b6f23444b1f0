"""Mail: one reminder handed to one server, by SMTP (RFC 5321), with TLS, within a time.

`refused` is a server's own no: an answer of the 500s, whether to the login, the sender, the recipient or the
message. All else is `later`, for it may come right: a line that broke, the 400s, what the server does not offer, and a
certificate that is not trusted, which may be renewed tomorrow or be that of a network that first wants a password.
Such a server gets neither login nor message, and no other machine gets them in the open.

Once the server has said yes to the whole message it is sent, whatever happens afterwards. Where the line breaks
between the last letter and that yes, nobody can know: it is sent again later, with the same Message-ID.
"""

import re
import smtplib
import socket
import ssl
from base64 import b64encode
from collections.abc import Iterator
from contextlib import suppress
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from functools import partial
from threading import Lock

from soakbook.errors import InputError
from soakbook.reminders.channels.patience import in_time
from soakbook.reminders.channels.wording import in_a_line, without
from soakbook.reminders.message import Came, Message, Outcome
from soakbook.reminders.ways import MailServer, check_mail_address, check_safe

PATIENCE_S = 60.0
"""For the whole of a sending: servers greet and judge slowly on purpose, and a claim of the outbox lasts 120. [s]"""

GOODBYE_S = 1.0
"""For the server's answer to our goodbye, which changes nothing. [s]"""


def send_mail(
    message: Message, address: str, server: MailServer, *, timeout_s: float = PATIENCE_S
) -> Outcome:
    """What the server said to a message; whatever goes wrong is an outcome, no error.

    Parameters
    ----------
    message : Message
        What is sent.
    address : str
        Of the one person it is for.
    server : MailServer
        Who takes it.
    timeout_s : float
        When it is given up, counted from the beginning and over everything [s, above 0].
    """
    try:
        check_safe(server.host, server.security, "security")
        sender = check_mail_address(server.sender, "sender")
        letter = _letter(message, check_mail_address(address), sender)
    except InputError as fault:
        return Outcome("later", f"{fault.field}: {fault.right}")  # not the address itself
    try:
        context = _context(server.ca_file)
    except (OSError, ValueError):  # ssl's errors are OSErrors
        return Outcome("later", f"{server.ca_file}: no certificate can be read there")
    delivery = _Delivery(server, context, timeout_s)
    late = Outcome("later", f"{server.host} did not finish within {timeout_s:g} s")
    outcome = in_time(
        partial(delivery.deliver, letter, address), timeout_s, late, delivery.lifeline.cut
    )
    if outcome.came == "later" and delivery.lifeline.is_cut:
        outcome = late
    if outcome.came == "later" and delivery.is_handed_over:
        outcome = Outcome("later", f"{outcome.answer}; it may have been taken, and come twice")
    return Outcome(outcome.came, without(outcome.answer, _secrets(server, address)))


class _Lifeline:
    """A second handle on the connection, by which it is cut from outside, TLS or not, whatever is being waited for."""

    def __init__(self) -> None:
        self.is_cut = False
        self._handle: socket.socket | None = None
        self._lock = Lock()

    def hold(self, line: socket.socket) -> None:
        """Take hold of a line just opened; one that was opened too late is shut at once."""
        with self._lock:
            self._handle = line.dup()
        if self.is_cut:
            self.cut()

    def cut(self) -> None:
        with self._lock:
            self.is_cut = True
            if self._handle is not None:
                with suppress(OSError):
                    self._handle.shutdown(socket.SHUT_RDWR)

    def let_go(self) -> None:
        with self._lock:
            if self._handle is not None:
                self._handle.close()
                self._handle = None


class _Session(smtplib.SMTP):
    """A connection that its lifeline holds from the first moment on, and TLS from there where that is wanted."""

    def __init__(self, delivery: "_Delivery") -> None:
        self._delivery = delivery
        server = delivery.server
        # Without a name of our own smtplib would ask the network for one.
        super().__init__(
            server.host, server.port, local_hostname="localhost", timeout=delivery.patience_s
        )
        if self.sock is not None:
            # Who has no name says the address it calls from (RFC 5321, section 4.1.4).
            own = self.sock.getsockname()[0].partition("%")[0]
            self.local_hostname = f"[IPv6:{own}]" if ":" in own else f"[{own}]"

    def _get_socket(self, host: str, port: int, timeout: float) -> socket.socket:
        delivery = self._delivery
        # A server has several addresses, and one of them may be dead.
        line = socket.create_connection((host, port), timeout / 3)
        try:
            line.settimeout(2 * timeout)  # the lifeline is cut before
            delivery.lifeline.hold(line)
            if delivery.server.security == "tls":
                return delivery.context.wrap_socket(line, server_hostname=host)
        except BaseException:
            line.close()
            raise
        return line


class _Delivery:
    """One message on its way, and how far it has got."""

    def __init__(self, server: MailServer, context: ssl.SSLContext, patience_s: float) -> None:
        self.server = server
        self.context = context
        self.patience_s = patience_s
        self.lifeline = _Lifeline()
        self.is_handed_over = False
        self._step = "greeting"

    def deliver(self, letter: bytes, address: str) -> Outcome:
        """What came of it: the server's words, or ours for what went wrong on the line."""
        session = None
        try:
            session = _Session(self)
            said = self._hand_over(session, letter, address)
            return Outcome("sent", said)
        except smtplib.SMTPResponseException as fault:
            reply = fault.smtp_error
            # Of what it cannot read smtplib makes a code below 0, or words of its own, which are text.
            if not (_is_code(fault.smtp_code) and isinstance(reply, bytes)):
                return Outcome("later", f"{self.server.host} does not speak as mail servers do")
            came: Came = "refused" if 500 <= fault.smtp_code < 600 else "later"
            return Outcome(came, f"{self._step}: {_said(fault.smtp_code, reply)}")
        except (OSError, smtplib.SMTPException, UnicodeError) as fault:
            return Outcome("later", _trouble(fault, self.server))
        finally:
            if session is not None:
                _part(session)
            self.lifeline.let_go()

    def _hand_over(self, session: smtplib.SMTP, letter: bytes, address: str) -> str:
        server = self.server
        session.ehlo_or_helo_if_needed()
        if server.security == "starttls":
            self._step = "starttls"
            session.starttls(context=self.context)
            session.ehlo_or_helo_if_needed()
        if server.user:
            self._step = "login"
            _log_in(session, server)
        self._step = "sender"
        _need_yes(*session.mail(server.sender))
        self._step = "recipient"
        _need_yes(*session.rcpt(address))
        self._step = "message"
        code, reply = session.docmd("DATA")
        if code != 354:
            raise smtplib.SMTPDataError(code, reply)
        self.is_handed_over = True
        session.send(letter + b".\r\n")
        code, reply = session.getreply()
        # A code that no server has is no answer: what became of the message is not known.
        self.is_handed_over = not _is_code(code)
        return _said(*_need_yes(code, reply))


def _letter(message: Message, address: str, sender: str) -> bytes:
    """The message as it goes over the line (RFC 5322), its dots doubled (RFC 5321, section 4.5.2)."""
    letter = EmailMessage(policy=SMTP)
    letter["From"] = Address("soakbook", addr_spec=sender)
    letter["To"] = Address(in_a_line(message.name), addr_spec=address)
    letter["Subject"] = in_a_line(message.title)
    letter["Date"] = message.sent_at
    # The domain is one that the sender may speak for (RFC 5322, section 3.6.4).
    letter["Message-ID"] = f"<{message.identifier}@{sender.rpartition('@')[2]}>"
    letter["Auto-Submitted"] = "auto-generated"  # RFC 3834, section 5: nobody's holiday answers it
    body = "".join(one if one == "\n" or one.isprintable() else " " for one in message.body)
    letter.set_content(body, cte="quoted-printable")
    return re.sub(rb"(?m)^\.", b"..", letter.as_bytes())


def _context(ca_file: str) -> ssl.SSLContext:
    """Who is trusted, and how: certificate and name are always looked at."""
    if not ca_file:
        return ssl.create_default_context()
    context = ssl.create_default_context(cafile=ca_file)
    # A home server's own certificate is signed by nobody else, and lacks what is asked of public ones.
    context.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN
    context.verify_flags &= ~ssl.VERIFY_X509_STRICT
    return context


def _log_in(session: smtplib.SMTP, server: MailServer) -> None:
    """PLAIN where it is offered (RFC 4616, in UTF-8, which smtplib's own is not), else what else there is."""
    if "PLAIN" in str(session.esmtp_features.get("auth", "")).upper().split():
        code, reply = session.docmd("AUTH", f"PLAIN {_plain(server)}")
        _need_yes(code, reply)
    else:
        session.login(server.user, server.password)


def _plain(server: MailServer) -> str:
    return b64encode(f"\0{server.user}\0{server.password}".encode()).decode()


def _is_code(code: int) -> bool:
    """Whether mail servers answer so (RFC 5321, section 4.2.1)."""
    return 200 <= code < 600


def _need_yes(code: int, reply: bytes) -> tuple[int, bytes]:
    if not 200 <= code < 300:
        raise smtplib.SMTPResponseException(code, reply)
    return code, reply


def _part(session: smtplib.SMTP) -> None:
    """Say goodbye, and hang up whatever comes back."""
    with suppress(OSError, smtplib.SMTPException):
        if session.sock is not None:
            session.sock.settimeout(min(GOODBYE_S, session.timeout))
            session.quit()
    session.close()


def _said(code: int, reply: bytes) -> str:
    return f"{code} {reply.decode('utf-8', 'replace')}"


def _secrets(server: MailServer, address: str) -> Iterator[str]:
    """What no answer may hold: the password as typed and as it goes over the line, and whose mail it is."""
    yield from (address, server.sender)
    if "@" in server.user:
        yield server.user
    if server.password:
        yield from (server.password, b64encode(server.password.encode()).decode(), _plain(server))


def _trouble(fault: Exception, server: MailServer) -> str:
    """What went wrong on the line, in words."""
    host, port = server.host, server.port
    if isinstance(fault, ssl.SSLCertVerificationError):
        return f"{host} cannot prove who it is: {fault.verify_message}"
    for kind, say in (
        (ssl.SSLError, f"no secure line can be had with {host} at port {port}"),
        (smtplib.SMTPNotSupportedError, f"{host} does not offer what is set up: {fault}"),
        (smtplib.SMTPServerDisconnected, f"{host} cut the line before it had said yes"),
        (socket.gaierror, f"{host} cannot be found: is there a way to the internet?"),
        (ConnectionRefusedError, f"nobody answers at {host}, port {port}"),
        (TimeoutError, f"{host} did not answer in time"),
        (UnicodeError, f"{host} takes logins of plain letters (ASCII) only"),
        (ConnectionError, f"{host} cut the line before it had said yes"),
        (smtplib.SMTPException, f"{host}: {fault}"),
    ):
        if isinstance(fault, kind):
            return say
    return f"{host} cannot be reached at port {port}"
