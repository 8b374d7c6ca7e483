"""Who may read a press on OPC UA: its own certificate, which policies it offers, users, trust, and how many at once."""

import socket
from typing import Any

from asyncua import Server, ua
from asyncua.common.utils import ServiceError
from asyncua.crypto.cert_gen import generate_private_key, generate_self_signed_app_certificate, x509
from asyncua.crypto.permission_rules import User, UserRole
from asyncua.server.internal_server import InternalServer

from simulators.opc_switches import OpcSwitches

__all__ = ["APPLICATION", "Gate", "guard", "new_identity"]

APPLICATION = "urn:simulated-press"

_POLICIES = {
    "": ua.SecurityPolicyType.NoSecurity,
    "sign": ua.SecurityPolicyType.Basic256Sha256_Sign,
    "encrypt": ua.SecurityPolicyType.Basic256Sha256_SignAndEncrypt,
}


class Gate(InternalServer):  # type: ignore[misc]  # the library is not followed
    """A server that lets in who the switches allow, and is its own manager of users."""

    def __init__(self, switches: OpcSwitches) -> None:
        super().__init__(user_manager=self)
        self.switches = switches
        if switches.queue:
            self.max_monitored_item_queue_size = switches.queue

    def get_user(
        self, iserver: Any, username: str | None = None, password: str | None = None, certificate: Any = None
    ) -> User | None:
        """Return who this is, None where they may not come in."""
        right = (username, password) == (self.switches.user, self.switches.password)
        return User(role=UserRole.User, name=username) if right or not self.switches.user else None

    def create_session(self, name: str, *given: Any, external: bool = False, **more: Any) -> Any:
        """Open a session, where there are not too many already; those of clients that are gone count for a while."""
        if external and self.switches.sessions and len(self._external_sessions) >= self.switches.sessions:
            raise ServiceError(ua.StatusCodes.BadTooManySessions)
        return super().create_session(name, *given, external=external, **more)


def new_identity() -> tuple[Any, Any]:
    """Return a new certificate of the press, signed by itself, and its key."""
    key = generate_private_key()
    names = [x509.UniformResourceIdentifier(APPLICATION), x509.DNSName(socket.gethostname())]
    usage = [x509.ExtendedKeyUsageOID.CLIENT_AUTH, x509.ExtendedKeyUsageOID.SERVER_AUTH]
    return generate_self_signed_app_certificate(key, "simulated press", {}, names, usage), key


def guard(server: Server, switches: OpcSwitches, identity: tuple[Any, Any] | None) -> None:
    """Set a server up to be read as the switches allow, as the press of this identity."""
    server.set_security_policy([_POLICIES[switches.security]])
    server.set_identity_tokens([ua.UserNameIdentityToken] if switches.user else [ua.AnonymousIdentityToken])
    if identity is not None:
        server.iserver.certificate, server.iserver.private_key = identity
    if not switches.trusting:

        async def refuse(certificate: Any, application: Any) -> None:
            raise ServiceError(ua.StatusCodes.BadCertificateUntrusted)

        server.set_certificate_validator(refuse)
