"""The pages over TLS from certificate files, with a certificate made for the test."""

import shutil
import socket
import ssl
import subprocess
from collections.abc import Iterator
from http.cookies import SimpleCookie
from pathlib import Path

import pytest

from tests.security.shop import SECRETS, Shop, filled, serving


@pytest.fixture(scope="module")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> Path:
    if shutil.which("openssl") is None:
        pytest.skip("no certificate could be made, so TLS was not tried (install openssl)")
    folder = tmp_path_factory.mktemp("certificate")
    command = ["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes"]
    names = ["-subj", "/CN=127.0.0.1", "-addext", "subjectAltName=IP:127.0.0.1", "-days", "30"]
    files = ["-keyout", str(folder / "key.pem"), "-out", str(folder / "certificate.pem")]
    subprocess.run([*command, *names, *files], check=True, capture_output=True)
    return folder / "certificate.pem"


@pytest.fixture(scope="module")
def trust(certificate: Path) -> ssl.SSLContext:
    return ssl.create_default_context(cafile=certificate)


@pytest.fixture(scope="module")
def sealed(tmp_path_factory: pytest.TempPathFactory, certificate: Path) -> Iterator[Shop]:
    """A shop whose pages are served over TLS."""
    folder = tmp_path_factory.mktemp("sealed")
    shutil.copy(certificate, folder)
    shutil.copy(certificate.with_name("key.pem"), folder)
    keys = 'login = true\ncertificate = "certificate.pem"\nkey = "key.pem"'
    with serving(filled(folder, keys, with_accounts=True)) as shop:
        yield shop


def test_with_a_certificate_nothing_is_answered_in_clear(sealed: Shop, trust: ssl.SSLContext) -> None:
    answer = sealed.visitor(tls=trust).ask("/log-in")
    assert answer.status == 200
    age = answer.header("Strict-Transport-Security")
    assert int(age.partition("max-age=")[2].partition(";")[0]) >= 86_400
    with socket.create_connection(("127.0.0.1", sealed.port), timeout=10) as plain:
        plain.sendall(b"GET /log-in HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        try:
            heard = plain.recv(10_000)
        except OSError:
            heard = b""
    assert b"Log in" not in heard
    assert b"200" not in heard[:20]


def test_the_cookie_is_bound_to_tls_and_host(sealed: Shop, trust: ssl.SSLContext) -> None:
    visitor = sealed.visitor(tls=trust)
    assert visitor.log_in("vera", SECRETS["vera"]).status == 303
    lines = [line for line in visitor.set_cookies if "session" in line]
    assert lines
    for line in lines:
        ((name, cookie),) = SimpleCookie(line).items()
        assert name.startswith("__Host-")
        assert cookie["secure"]
        assert cookie["httponly"]
        assert cookie["samesite"] == "Strict"
        assert cookie["path"] == "/"
        assert not cookie["domain"]
    assert visitor.ask("/parts").status == 200


@pytest.mark.parametrize("version", [ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1])
@pytest.mark.filterwarnings("ignore:ssl.TLSVersion:DeprecationWarning")
def test_old_tls_is_refused(sealed: Shop, certificate: Path, version: ssl.TLSVersion) -> None:
    old = ssl.create_default_context(cafile=certificate)
    old.minimum_version = old.maximum_version = version
    old.set_ciphers("ALL:@SECLEVEL=0")
    with pytest.raises(OSError, match=r"(?i)ssl|version|alert|eof|reset"), shaken(sealed, old):
        pass


def test_weak_ciphers_are_refused_and_the_newest_tls_is_taken(sealed: Shop, certificate: Path) -> None:
    with shaken(sealed, ssl.create_default_context(cafile=certificate)) as strong:
        assert strong.version() == "TLSv1.3"
    for cipher in ("AES128-SHA", "AES256-SHA256", "ECDHE-ECDSA-AES128-SHA", "eNULL", "aNULL"):
        weak = ssl.create_default_context(cafile=certificate)
        weak.maximum_version = ssl.TLSVersion.TLSv1_2
        weak.set_ciphers(f"{cipher}:@SECLEVEL=0")
        with pytest.raises(OSError, match=r"(?i)ssl|alert|eof|reset"), shaken(sealed, weak):
            pass


def shaken(shop: Shop, context: ssl.SSLContext) -> ssl.SSLSocket:
    """Shake hands as a client with these settings."""
    plain = socket.create_connection(("127.0.0.1", shop.port), timeout=10)
    try:
        return context.wrap_socket(plain, server_hostname="127.0.0.1")
    except OSError:
        plain.close()
        raise
