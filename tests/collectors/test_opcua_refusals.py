"""What is said when a press refuses: each with the status it gave and what to do, and tried again as fits."""

import re

import pytest

from shotlog.collectors import opcua_refusals
from shotlog.collectors.opcua_refusals import OurSide, closed_unsaid, nothing_fits, refusal
from shotlog.errors import PressRefused, PressUnreachable

OURS = OurSide(
    "opc.tcp://press:4840", "Basic256Sha256, sign", "ours.pem, thumbprint AB:CD, valid to 2031-01-01", "logger"
)
TABLES = (opcua_refusals._CERTIFICATE, opcua_refusals._USER, opcua_refusals._POLICY, opcua_refusals._BUSY)
STATUSES = [status for table in (*TABLES, opcua_refusals._OTHER) for status in table]


@pytest.mark.parametrize("status", STATUSES)
def test_each_is_one_sentence_that_shows_whole(status: str) -> None:
    said = str(refusal(status, OURS))
    assert said.startswith(f"opc.tcp://press:4840 says {status}: ")
    assert "***" not in said, "what takes secrets out took a word of it"
    assert "\n" not in said


@pytest.mark.parametrize("status", opcua_refusals._CERTIFICATE)
def test_a_certificate_that_is_not_taken_is_named_with_file_and_thumbprint(status: str) -> None:
    assert str(refusal(status, OURS)).endswith("; ours is ours.pem, thumbprint AB:CD, valid to 2031-01-01")


def test_where_the_press_keeps_what_it_trusts_is_said() -> None:
    for said in (
        refusal("BadCertificateUntrusted", OURS),
        refusal("BadSecurityChecksFailed", OURS),
        closed_unsaid(OURS),
    ):
        assert isinstance(said, PressRefused)
        assert re.search("list of rejected ones, from which whoever administers the press .* moves ours", str(said))


def test_what_passes_is_tried_again_soon_and_what_does_not_slowly() -> None:
    for status in opcua_refusals._BUSY:
        assert isinstance(refusal(status, OURS), PressUnreachable)
    assert isinstance(refusal("BadSomethingNew", OURS), PressUnreachable)
    assert isinstance(refusal("BadIdentityTokenRejected", OURS), PressRefused)


def test_without_a_user_or_a_certificate_it_says_to_give_one() -> None:
    plain = OurSide("opc.tcp://press:4840")
    assert "give user and password_file" in str(refusal("BadIdentityTokenRejected", plain))
    assert str(refusal("BadCertificateUntrusted", plain)).endswith("no certificate of ours is configured")
    assert "give security_policy, certificate and private_key" in str(nothing_fits(plain))
    assert "look at security_policy and security_mode" in str(nothing_fits(OURS))
    assert "is this an OPC UA server?" in str(closed_unsaid(plain))
