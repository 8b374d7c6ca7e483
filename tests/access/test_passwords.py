"""Which passwords are taken, and that one is kept by scrypt with the parameters that are stated."""

import pytest

from shotlog.access.passwords import METHOD, check_new, kept_of, matches
from shotlog.errors import UsageError

TAKEN = [
    "eleven brass kettles",
    "            a                  ",
    "zwölf Kühe im Tal 🐄",
    "correct battery of brass",
    "Trombone-Quarry-17",
    "x" * 64 + "y" * 64,
    "kb has eleven kettles",
]
FIRST_TRIED = [
    "password1234", "Passwort2026!!!", "PRESS press 123", "qwertyuiop12", "1qaz2wsx3edc", "aaaaaaaaaaaa",
    "abcabcabcabc", "abcdefghijklm", "987654321098", "Correct Horse Battery Staple", "shotlog-shotlog", "123456789012",
]  # fmt: skip


@pytest.mark.parametrize("password", TAKEN)
def test_any_characters_are_taken_in_any_order(password: str) -> None:
    check_new(password, "kb")


@pytest.mark.parametrize("password", FIRST_TRIED)
def test_what_is_tried_first_is_refused_and_not_repeated(password: str) -> None:
    with pytest.raises(UsageError, match="tried first") as refused:
        check_new(password, "kb")
    assert password not in str(refused.value)


@pytest.mark.parametrize(("password", "said"), [("x" * 11, "given 11 char"), ("ab c" * 33, "given 132 char")])
def test_length_is_what_counts(password: str, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        check_new(password, "kb")


def test_the_name_of_the_account_is_no_password() -> None:
    with pytest.raises(UsageError, match="name of the account"):
        check_new("K.Brandt-1984", "k.brandt")


def test_it_is_kept_by_scrypt_with_the_parameters_that_are_stated() -> None:
    """OWASP's cheat sheet on storage: N = 2^15, r = 8, p = 3 is the least for 32 MiB."""
    kept = kept_of("zwo\u0308lf Ku\u0308he im Tal")
    assert METHOD == "scrypt:32768:8:3"
    assert kept.startswith("scrypt:32768:8:3$")
    assert matches("zwölf Kühe im Tal", kept), "another keyboard writes the same letters"
    assert not matches("zwölf Kühe im Tal ", kept)
    assert not matches("x" * 100_000, kept)
