"""What to do about a press that refuses, by the status code it gives: one sentence each. Pure; a table.

Names of status codes are those of OPC UA part 4 and 6. Where a press keeps its list of trusted certificates is by
common practice, and not verified on a real press.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from shotlog.errors import CollectorError, PressRefused, PressUnreachable

__all__ = ["OurSide", "closed_unsaid", "nothing_fits", "refusal"]

_TRUST = (
    "on the press, in the set-up of its OPC UA server, certificates it refused mostly lie in a list of rejected ones, "
    "from which whoever administers the press (often its maker's service) moves ours to the trusted ones"
)


@dataclass(frozen=True, slots=True)
class OurSide:
    """What of this side a sentence names: the address, the policy, our certificate with its thumbprint, the user."""

    url: str
    policy: str = "none"
    certificate: str = ""
    user: str = ""


_CERTIFICATE: Mapping[str, str] = {
    "BadCertificateUntrusted": f"the press does not trust our certificate yet: {_TRUST}",
    "BadSecurityChecksFailed": (
        "the press refuses the connection on its security checks, mostly because it does not trust our "
        f"certificate yet: {_TRUST}"
    ),
    "BadCertificateTimeInvalid": (
        "a certificate is not valid at this time, by the press's clock: look at the dates of ours, and at the "
        "date and time set on the press"
    ),
    "BadCertificateIssuerTimeInvalid": (
        "the certificate that signed ours is not valid at this time, by the press's clock: look at its dates, and "
        "at the date set on the press"
    ),
    "BadCertificateUriInvalid": (
        "the press does not find our application's address (URI) in our certificate: make one with it, as the "
        "README says"
    ),
    "BadCertificateHostNameInvalid": (
        "the press does not find this computer's name in our certificate: make one with it, as the README says"
    ),
    "BadCertificateUseNotAllowed": (
        "our certificate may not be used for this: make one for signing and encryption by a client, as the README says"
    ),
    "BadCertificateIssuerUseNotAllowed": (
        "the certificate that signed ours may not sign others: make ours anew, as the README says"
    ),
    "BadCertificateRevoked": "our certificate was revoked: make a new one, and have the press trust it",
    "BadCertificateRevocationUnknown": (
        "the press cannot find out whether our certificate was revoked: make one that signs itself, as the README "
        "says, and have the press trust it"
    ),
    "BadCertificateIssuerRevocationUnknown": (
        "the press cannot find out whether the certificate that signed ours was revoked: give it the list of "
        "revoked ones, or use one that signs itself"
    ),
    "BadCertificateChainIncomplete": (
        "the press does not know the certificate that signed ours: give it to the press as well, or use one that "
        "signs itself"
    ),
    "BadCertificateInvalid": "the press takes our certificate for none: is the file whole, and is it of the key given?",
    "BadCertificatePolicyCheckFailed": (
        "our certificate is too weak for the press: make one with a key of 2048 bits or more and SHA-256"
    ),
}

_USER: Mapping[str, str] = {
    "BadUserAccessDenied": (
        "the press does not let this user in with this password, or not to this. Look at the file password_file names, "
        "and ask who administers its users for one that may read and subscribe to events"
    ),
    "BadIdentityTokenRejected": (
        "the press does not take this user with this password. Look at user and at the file password_file names, or "
        "ask who administers the press's users"
    ),
    "BadIdentityTokenInvalid": (
        "the press takes no log-in of this kind: ask who administers its users which it wants, a user with a "
        "password or nobody (no key user)"
    ),
    "BadUserSignatureInvalid": "the press does not take the signature of this log-in: give user and password_file",
}

_NOBODY = (
    "the press lets nobody in without a user: give user and password_file, of one that may read and subscribe to events"
)

_POLICY: Mapping[str, str] = {
    "BadSecurityPolicyRejected": (
        "the press does not offer this security policy: give another one as security_policy, or have it switched "
        "on in the press's OPC UA server"
    ),
    "BadSecurityModeRejected": (
        "the press does not offer this security mode: give the other one as security_mode (sign, "
        'sign-and-encrypt), or security_policy = "none"'
    ),
    "BadSecurityModeInsufficient": (
        "the press wants more security for this: give a security_policy with certificate and private_key"
    ),
}

_BUSY: Mapping[str, str] = {
    "BadTooManySessions": (
        "the press has no session left: mostly another program holds them, or an earlier start of this one does "
        "for half a minute more; close what else reads this press, or raise its limit"
    ),
    "BadTooManySubscriptions": (
        "the press has no subscription left: close what else reads this press, or raise its limit"
    ),
    "BadTooManyMonitoredItems": "the press watches no more items: close what else reads this press, or raise its limit",
    "BadTcpServerTooBusy": "the press is too busy to answer: it is tried again",
    "BadServerTooBusy": "the press is too busy to answer: it is tried again",
    "BadMaxConnectionsReached": (
        "the press has no connection left: close what else reads this press, or raise its limit"
    ),
    "BadTcpNotEnoughResources": (
        "the press has no connection left: close what else reads this press, or raise its limit"
    ),
    "BadOutOfMemory": "the press has no memory left for another connection: close what else reads it",
    "BadServerHalted": "the press's OPC UA server is stopped: it is tried again",
    "BadShutdown": "the press's OPC UA server is being shut down: it is tried again",
    "BadTimeout": "the press did not answer in time: it is tried again",
    "BadSessionIdInvalid": "the press has ended our session: it is opened again",
    "BadSessionClosed": "the press has ended our session: it is opened again",
    "BadSecureChannelIdInvalid": "the press has ended our secure channel: it is opened again",
    "BadSecureChannelClosed": "the press has ended our secure channel: it is opened again",
    "BadConnectionClosed": "the press closed the connection: it is opened again",
    "BadSubscriptionIdInvalid": "the press has ended our subscription: it is made again",
    "BadNoSubscription": "the press has ended our subscription: it is made again",
}

_OTHER: Mapping[str, str] = {
    "BadTcpEndpointUrlInvalid": (
        "the press does not know itself by this address: give url as the press's own screen shows it, with its path"
    ),
    "BadServerUriInvalid": "another server answers there than the one meant: look at url",
    "BadServiceUnsupported": (
        "this server sends no events from there: leave node out where one is given; else, is it the press's, with "
        "EUROMAP 77 (OPC 40077) switched on?"
    ),
    "BadNodeIdUnknown": "the press has no such node: look at node and at what probe finds",
    "BadAttributeIdInvalid": "this node sends no events: leave node out, so that the Server object is asked",
    "BadEventNotifierInvalid": "this node sends no events: leave node out, so that the Server object is asked",
    "BadNotSupported": (
        "this node sends no events, or not by this filter: leave node out, so that the Server object is asked"
    ),
    "BadEncodingLimitsExceeded": "the press's answer is larger than it may be",
    "BadTcpMessageTooLarge": "a message is larger than the press takes",
    "BadLicenseExpired": "the licence of the press's OPC UA server has ended: ask the press's maker",
    "BadLicenseNotAvailable": "the press's OPC UA server has no licence: ask the press's maker",
    "BadLicenseLimitsExceeded": "the licence of the press's OPC UA server allows no more: ask the press's maker",
}


def refusal(status: str, ours: OurSide) -> CollectorError:
    """Return the error for a status code by its name, fit to be shown.

    Examples
    --------
    >>> str(refusal("BadIdentityTokenRejected", OurSide("opc.tcp://press:4840", user="logger")))[:96]
    'opc.tcp://press:4840 says BadIdentityTokenRejected: the press does not take this user with this '
    """
    if status in _CERTIFICATE:
        mine = f"; ours is {ours.certificate}" if ours.certificate else "; no certificate of ours is configured"
        return PressRefused(_said(status, ours, _CERTIFICATE[status] + mine))
    if status in _USER:
        if not ours.user:
            return PressRefused(_said(status, ours, _NOBODY))
        return PressRefused(_said(status, ours, f"{_USER[status]}; given user {ours.user!r}"))
    if status in _POLICY:
        return PressRefused(_said(status, ours, f"{_POLICY[status]}; given {ours.policy}"))
    if status in _BUSY:
        return PressUnreachable(_said(status, ours, _BUSY[status]))
    if status in _OTHER:
        return PressRefused(_said(status, ours, _OTHER[status]))
    return PressUnreachable(f"{ours.url} says {status or 'an unknown status'}")


def closed_unsaid(ours: OurSide) -> CollectorError:
    """Return the error for a press that hung up while the secure channel was opened, without a word why."""
    if not ours.certificate:
        return PressUnreachable(f"{ours.url} hung up while it was connected to: is this an OPC UA server?")
    why = "hung up while the secure channel was opened; mostly it does not trust our certificate yet"
    return PressRefused(f"{ours.url} {why}: {_TRUST}; ours is {ours.certificate}")


def nothing_fits(ours: OurSide) -> CollectorError:
    """Return the error for a press that opened a channel, and offers no session on it."""
    if ours.policy == "none":
        return PressRefused(
            f"{ours.url} takes no connection without security: give security_policy, certificate and private_key, and "
            "have whoever administers the press trust that certificate"
        )
    return PressRefused(f"{ours.url} offers no session under {ours.policy}: look at security_policy and security_mode")


def _said(status: str, ours: OurSide, what: str) -> str:
    return f"{ours.url} says {status}: {what}"
