"""A client that is ready to connect: with our certificate and the press's, and who logs in.

A certificate of the press other than the configured one is refused before anything is sent to it but the question what
it offers; a password that anybody could read on its way is not sent unless the configuration allows it.
"""

from collections.abc import Sequence
from contextlib import AbstractContextManager, nullcontext
from typing import Any

from asyncua import Client, ua
from asyncua.crypto import security_policies
from asyncua.crypto.uacrypto import CertProperties, x509_from_der
from asyncua.observer import Observer

from shotlog.collectors.opcua_certificates import Security, application_uri, is_over, named, password_in
from shotlog.collectors.opcua_options import Server
from shotlog.collectors.opcua_refusals import OurSide
from shotlog.errors import PressRefused, PressUnreachable

__all__ = ["ASKED", "Secured", "log_in", "secured", "session_s"]

ASKED = frozenset(
    {
        "ActivateSessionRequest",
        "BrowseNextRequest",
        "BrowseRequest",
        "CloseSessionRequest",
        "CreateMonitoredItemsRequest",
        "CreateSessionRequest",
        "CreateSubscriptionRequest",
        "GetEndpointsRequest",
        "PublishRequest",
        "ReadRequest",
    }
)
"""Every kind of request that may go to a press, beside opening and closing the channel."""

_SESSION, _SESSION_LEAST_S = 6, 30.0


def session_s(server: Server) -> float:
    """Return how long the press is to keep a session that nobody closed, in seconds: six words of life, for some have
    one session only, and who was cut off comes back no sooner.
    """
    return max(_SESSION * server.keep_alive_s, _SESSION_LEAST_S)


_NAME = "shotlog, a logger that only reads"
_URI = "urn:shotlog:logger"

_POLICIES: dict[str, type[security_policies.SecurityPolicy]] = {
    "Basic256Sha256": security_policies.SecurityPolicyBasic256Sha256,
    "Aes128Sha256RsaOaep": security_policies.SecurityPolicyAes128Sha256RsaOaep,
    "Aes256Sha256RsaPss": security_policies.SecurityPolicyAes256Sha256RsaPss,
}
_MODES = {"sign": ua.MessageSecurityMode.Sign, "sign-and-encrypt": ua.MessageSecurityMode.SignAndEncrypt}


class _OnlyAsks(Observer):  # type: ignore[misc]  # the library is not followed
    """Lets no request out that is not in `ASKED`."""

    def observe_request(self, request: Any) -> AbstractContextManager[None]:
        kind = type(request).__name__
        if kind not in ASKED:
            raise PressRefused(f"{kind} is no request to read, and is not sent")
        return nullcontext()


class Secured:
    """A client, the addresses behind the press's name, and what of our side a sentence names."""

    def __init__(self, server: Server, hosts: Sequence[str], port: int) -> None:
        self.server, self._hosts, self._port = server, hosts, port
        self.ours = OurSide(server.url, user=server.user)
        self.remarks: list[str] = []
        self.client = new_client(server)

    async def connect(self) -> None:
        """Connect to the socket and say hello.

        Raises
        ------
        OSError
            Nobody listens at any of the addresses.
        PressUnreachable
            Something answers there, and does not know what to make of a hello.
        """
        await self._connect_socket()
        try:
            await self.client.send_hello()
        except ConnectionError as error:
            why = "something answers there, and hangs up at the first word: is it an OPC UA server?"
            raise PressUnreachable(f"{self.server.url} is reached, but {why}") from error

    async def _connect_socket(self) -> None:
        """Connect to the first address that answers, and stay with it; a name often stands for two, with one in use."""
        for host in self._hosts:
            try:
                await self.client.uaclient.connect_socket(host, self._port)
            except OSError:
                if host == self._hosts[-1]:
                    raise
            else:
                self._hosts = [host]
                return


def new_client(server: Server) -> Client:
    """Return a client that only asks."""
    client = Client(server.url, timeout=server.timeout_s)
    client.name = client.description = _NAME
    client.application_uri = client.product_uri = _URI
    client.session_timeout = int(session_s(server) * 1000)
    client.uaclient.observer = _OnlyAsks()
    return client


async def secured(made: Secured) -> None:
    """Prepare a client to sign and encrypt, where that is configured; it is not connected afterwards.

    Raises
    ------
    PressRefused
        A certificate has ended, is another one than configured, or the press does not offer the policy.
    """
    server = made.server
    security = server.security
    if security is None:
        return
    own = security.own()
    policy = f"{security.policy}, {security.mode}"
    made.ours = OurSide(server.url, policy, named(own, security.certificate), server.user)
    if is_over(own):
        raise PressRefused(
            f"{server.url} is not connected to: our certificate is not valid now: {made.ours.certificate}"
        )
    kind, mode = _POLICIES[security.policy], _MODES[security.mode]
    theirs = await _of_press(made, security, mode, str(kind.URI))
    made.client = client = new_client(server)
    client.application_uri = application_uri(own) or _URI
    await client.set_security(
        kind,
        CertProperties(_der(own), "der"),
        CertProperties(_key_der(security.key()), "der"),
        server_certificate=CertProperties(theirs, "der"),
        mode=mode,
    )


async def _of_press(made: Secured, security: Security, mode: ua.MessageSecurityMode, policy: str) -> bytes:
    """Return the press's certificate, from what it offers before anything is secured."""
    url, pinned = made.server.url, security.of_press()
    await made.connect()
    try:
        await made.client.open_secure_channel()
        offered = await made.client.get_endpoints()
        await made.client.close_secure_channel()
    except (ua.UaStatusCodeError, ConnectionError):
        if pinned is None:
            raise
        return _der(pinned)  # a press that says nothing to one who is not secured yet; what it must show is known
    finally:
        made.client.disconnect_socket()
    fitting = [one for one in offered if one.SecurityMode == mode and one.SecurityPolicyUri == policy]
    if not fitting:
        ways = "; ".join(sorted({_way(one) for one in offered}))
        raise PressRefused(
            f"{url} does not offer {made.ours.policy}; it offers {ways or 'nothing'}: give one of these as "
            "security_policy and security_mode, or have it switched on in the press's OPC UA server"
        )
    certificate = x509_from_der(fitting[0].ServerCertificate)
    if certificate is None:
        raise PressRefused(f"{url} shows no certificate for {made.ours.policy}")
    if pinned is not None and pinned != certificate:
        raise PressRefused(
            f"{url} shows another certificate ({named(certificate)}) than the one in server_certificate "
            f"({named(pinned, security.server_certificate)}): if it was renewed, get the new one from whoever "
            "administers the press and compare thumbprints; else something else answers there"
        )
    if is_over(certificate):
        made.remarks.append(f"the press's own certificate is not valid now: {named(certificate)}")
    return _der(certificate)


def log_in(made: Secured) -> tuple[str | None, str | None]:
    """Return user and password; the client has a session, and so knows how the press takes them.

    Raises
    ------
    PressRefused
        The password cannot be read, or would go over the network to be read by anybody.
    """
    server, client = made.server, made.client
    if not server.user:
        return None, None
    password = "" if server.password_file is None else password_in(server.password_file)
    under = client.server_policy(ua.UserTokenType.UserName).SecurityPolicyUri
    is_hidden = client.security_policy.Mode == ua.MessageSecurityMode.SignAndEncrypt
    if password and under in (None, "", security_policies.SecurityPolicyNone.URI) and not is_hidden:
        if not server.unprotected_login:
            raise PressRefused(
                f"{server.url} is not logged in to: the password would go over the network to be read by anybody: give "
                "a security_policy with certificate and private_key, or unprotected_login = true where that network is "
                "yours alone"
            )
        made.remarks.append("the password goes over the network to be read by anybody (unprotected_login)")
    return server.user, password


def _way(endpoint: ua.EndpointDescription) -> str:
    policy = str(endpoint.SecurityPolicyUri or "").rpartition("#")[2]
    mode = next((f", {name}" for name, one in _MODES.items() if one == endpoint.SecurityMode), "")
    return f"{'none' if policy in ('None', '') else policy}{mode}"


def _der(certificate: Any) -> bytes:
    from cryptography.hazmat.primitives.serialization import Encoding

    return bytes(certificate.public_bytes(Encoding.DER))


def _key_der(key: Any) -> bytes:
    from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

    return bytes(key.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption()))
