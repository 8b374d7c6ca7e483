"""Files with a secret in them that everybody may read are named, with what to do."""

import os
from pathlib import Path

import pytest

from shotlog.access.exposed_secrets import exposed_secrets


@pytest.mark.skipif(os.name != "posix", reason="who may read a file is told otherwise there")
def test_a_file_with_a_secret_that_everybody_may_read_is_named(tmp_path: Path) -> None:
    for name, mode in (("open", 0o644), ("shut", 0o640), ("map", 0o644)):
        (tmp_path / name).write_text("hush", encoding="utf-8")
        (tmp_path / name).chmod(mode)
    keys: dict[str, tuple[object, bool]] = {
        "press[1].collector.password_file": ("open", True),
        "press[2].collector.private_key": ("shut", True),
        "press[3].collector.password_file": ("gone", True),
        "messages.mqtt_password_file": (None, False),
        "press[1].collector.certificate": ("map", True),
    }
    file = tmp_path / "open"
    assert list(exposed_secrets(keys, tmp_path)) == [
        f"press[1].collector.password_file: everybody on this computer may read {file}, and only the logger should: "
        f"chmod 600 {file}"
    ]
