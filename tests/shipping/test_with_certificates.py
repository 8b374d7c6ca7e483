"""Shipping to a server that is asked for its certificate, with the password in a file of its own."""

import shutil
import subprocess
from pathlib import Path

import psycopg
import pytest

from shotlog.cli.main import main
from shotlog.store.log.log import open_log
from tests.made_shots import shots
from tests.postgres import start_server

CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
PASSWORD = "seven brass: kettles"
IN_FILE = PASSWORD.replace(":", "\\:")


def openssl(folder: Path, *words: str) -> None:
    subprocess.run(["openssl", *words], check=True, capture_output=True, cwd=folder)


def certificates(folder: Path, name: str) -> None:
    """Make an authority, and a key and certificate of it for a server of a name, as docs/centre.md has it."""
    openssl(folder, "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-days", "2",
            "-subj", "/CN=plant", "-keyout", "ca.key", "-out", "ca.crt")  # fmt: skip
    openssl(folder, "req", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes",
            "-subj", f"/CN={name}", "-keyout", "server.key", "-out", "server.csr")  # fmt: skip
    (folder / "names").write_text(f"subjectAltName=DNS:{name}\n", encoding="utf-8")
    openssl(folder, "x509", "-req", "-days", "2", "-in", "server.csr", "-CA", "ca.crt", "-CAkey", "ca.key",
            "-CAcreateserial", "-extfile", "names", "-out", "server.crt")  # fmt: skip


@pytest.mark.skipif(shutil.which("openssl") is None, reason="openssl is not installed")
def test_ship_asks_the_server_who_it_is_and_reads_the_password_from_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_log(f"sqlite:///{tmp_path / 'trial.db'}", read_only=False) as log:
        log.append(shots(1, 3))
    (tmp_path / "hall-1.toml").write_text(CONFIG, encoding="utf-8")
    certificates(tmp_path, "localhost")
    with start_server({"fsync": "off", "listen_addresses": "localhost"}) as server:
        for name in ("server.key", "server.crt"):
            kept = Path(shutil.copy(tmp_path / name, server.data / name))
            shutil.chown(kept, server.data.owner(), server.data.group())
            kept.chmod(0o600)
        (server.data / "pg_hba.conf").write_text(
            "hostnossl all all all trust\nhostssl all all all scram-sha-256\n", encoding="ascii"
        )
        with psycopg.connect(f"host=127.0.0.1 port={server.port} user=shotlog dbname=postgres", autocommit=True) as own:
            own.execute(f"ALTER ROLE shotlog PASSWORD '{PASSWORD}'")
            own.execute("ALTER SYSTEM SET ssl = on")
            own.execute("SELECT pg_reload_conf()")
        url = f"postgresql+psycopg://shotlog@localhost:{server.port}/postgres?sslmode=verify-full"
        monkeypatch.setenv("PGPASSFILE", str(tmp_path / "pass"))
        (tmp_path / "pass").write_text(f"localhost:{server.port}:*:shotlog:{IN_FILE}\n", encoding="utf-8")
        (tmp_path / "pass").chmod(0o600)

        def ship(to: str) -> tuple[int, str]:
            status = main(["ship", str(tmp_path / "hall-1.toml"), "--to", to, "--once"])
            said = capsys.readouterr()
            return status, said.out + said.err

        ca = f"&sslrootcert={tmp_path / 'ca.crt'}"
        status, said = ship(url + ca)
        assert status == 0, said
        assert "1 transaction went there" in said
        status, said = ship(url.replace("localhost", "127.0.0.1") + ca)
        assert status != 0
        assert "does not match host name" in said
        status, said = ship(f"{url}&sslrootcert={tmp_path / 'server.crt'}")
        assert status != 0
        assert "certificate verify failed" in said
        (tmp_path / "pass").write_text("localhost:*:*:shotlog:other\n", encoding="utf-8")
        status, said = ship(url + ca)
        assert status == 2
        assert "password authentication failed" in said
        assert PASSWORD not in said
