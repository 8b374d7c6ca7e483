"""Our certificate, its key and the press's, as files: read, looked at, and named by a thumbprint.

The thumbprint is the SHA-1 over the whole certificate, by which OPC UA names one everywhere (part 4, 7.3); nothing
rests on it. The library that reads certificates comes with the extra, and is loaded only where one is configured.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shotlog.errors import PressRefused, UsageError

if TYPE_CHECKING:
    from cryptography.x509 import Certificate

__all__ = ["MODES", "POLICIES", "Security", "named", "password_in"]

POLICIES = ("none", "Basic256Sha256", "Aes128Sha256RsaOaep", "Aes256Sha256RsaPss")
"""Those of OPC UA part 7 that are not withdrawn."""
MODES = ("sign-and-encrypt", "sign")


@dataclass(frozen=True, slots=True)
class Security:
    """How the connection is secured; `server_certificate` is the one the press must show, None where any is taken."""

    policy: str
    mode: str
    certificate: Path
    private_key: Path
    server_certificate: Path | None = None

    def own(self) -> "Certificate":
        """Return our certificate.

        Raises
        ------
        UsageError
            The file is not there, or holds none.
        """
        return certificate_in(self.certificate, "certificate")

    def key(self) -> Any:
        """Return our private key.

        Raises
        ------
        UsageError
            The file is not there, holds no key, one with a passphrase, or that of another certificate.
        """
        from cryptography.hazmat.primitives.serialization import (
            Encoding,
            PublicFormat,
            load_der_private_key,
            load_pem_private_key,
        )

        data = _read(self.private_key, "private_key")
        load = load_pem_private_key if data.lstrip().startswith(b"-----") else load_der_private_key
        try:
            key = load(data, password=None)
        except TypeError as error:
            given = f"private_key: given {self.private_key}, which wants a passphrase"
            raise UsageError(f"{given}, allowed: a key without one, in a file that only the logger may read") from error
        except ValueError as error:
            raise UsageError(f"private_key: given {self.private_key}, allowed: a private key (PEM or DER)") from error
        form = (Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
        if key.public_key().public_bytes(*form) != self.own().public_key().public_bytes(*form):
            raise UsageError(f"private_key: given {self.private_key}, allowed: the key of {self.certificate.name}")
        return key

    def of_press(self) -> "Certificate | None":
        """Return the certificate the press must show; None where any is taken."""
        if self.server_certificate is None:
            return None
        return certificate_in(self.server_certificate, "server_certificate")

    def lines(self) -> Iterator[str]:
        """Say what is configured, a line each."""
        own = self.own()
        yield f"security: {self.policy}, {self.mode}"
        yield f"our certificate: {named(own, self.certificate)}, for {application_uri(own) or 'no address'}"
        pinned = self.of_press()
        if pinned is None or self.server_certificate is None:
            yield "the press's certificate: whichever it shows (server_certificate = a file takes that one only)"
        else:
            yield f"the press's certificate: {named(pinned, self.server_certificate)}"


def certificate_in(file: Path, key: str) -> "Certificate":
    """Return the certificate of a file in PEM or DER.

    Raises
    ------
    UsageError
        The file is not there, or holds none.
    """
    from cryptography import x509

    data = _read(file, key)
    try:
        if data.lstrip().startswith(b"-----"):
            return x509.load_pem_x509_certificate(data)
        return x509.load_der_x509_certificate(data)
    except ValueError as error:
        raise UsageError(f"{key}: given {file}, allowed: a certificate (PEM or DER)") from error


def named(certificate: "Certificate", file: Path | None = None) -> str:
    """Return what a person finds a certificate by: file, thumbprint, dates."""
    where = f"{file.name}, " if file is not None else ""
    first, last = certificate.not_valid_before_utc, certificate.not_valid_after_utc
    now = datetime.now(UTC)
    dates = f"valid to {last:%Y-%m-%d}"
    if now > last:
        dates = f"which ended on {last:%Y-%m-%d}: make a new one"
    elif now < first:
        dates = f"which is valid only from {first:%Y-%m-%d}: is this computer's date right?"
    return f"{where}thumbprint {thumbprint(certificate)}, {dates}"


def thumbprint(certificate: "Certificate") -> str:
    """Return the SHA-1 over a certificate, in pairs of digits."""
    from cryptography.hazmat.primitives import hashes

    return certificate.fingerprint(hashes.SHA1()).hex(":").upper()  # noqa: S303  as presses show it; nothing rests on it


def is_over(certificate: "Certificate") -> bool:
    """Say whether a certificate has ended, or has not begun, by this computer's clock."""
    return not certificate.not_valid_before_utc <= datetime.now(UTC) <= certificate.not_valid_after_utc


def application_uri(certificate: "Certificate") -> str:
    """Return the address of the application that a certificate is for, which the press compares; empty for none."""
    from cryptography import x509

    try:
        names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return ""
    return next(iter(names.get_values_for_type(x509.UniformResourceIdentifier)), "")


def password_in(file: Path) -> str:
    """Return the first line of a file; it is read anew for each connection and kept nowhere.

    Raises
    ------
    PressRefused
        It cannot be read, or is empty; says the file and never what is in it, with no error behind it that does.
    """
    try:
        lines = file.read_text(encoding="utf-8-sig").splitlines()  # some editors put a mark before the text
    except OSError as error:
        raise PressRefused(f"password_file {file} cannot be read: {error.strerror}") from error
    except UnicodeDecodeError:
        raise PressRefused(f"password_file {file} is not in UTF-8: save it as UTF-8") from None
    if not lines or not lines[0]:
        raise PressRefused(f"password_file {file} has no password in its first line")
    return lines[0]


def _read(file: Path, key: str) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        given = f"{key}: given {file}, which cannot be read ({error.strerror})"
        raise UsageError(f"{given}, allowed: a file in PEM or DER that is there") from error
