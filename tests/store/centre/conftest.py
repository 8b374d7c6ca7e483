"""A PostgreSQL server for the tests of the centre, and in it a database for each."""

import os
import shutil
import socket
import subprocess
import tempfile
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from shotlog.store.centre.centre import open_centre

AS_ROOT = ["runuser", "-u", "postgres", "--"]


def programs() -> Path | None:
    """Return where Debian keeps the programs of the server, None where there are none."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    return found[-1].parent if found else None


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    where = programs()
    if where is None:
        if os.environ.get("CI"):
            pytest.fail("PostgreSQL is not installed")
        pytest.skip("PostgreSQL is not installed")
    folder = Path(tempfile.mkdtemp(prefix="centre-"))  # not below pytest's, where no other user may look
    as_user = AS_ROOT if os.geteuid() == 0 else []
    if as_user:
        shutil.chown(folder, "postgres")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    data = folder / "data"
    made = [str(where / "initdb"), "-D", str(data), "-A", "trust", "-U", "postgres", "-E", "UTF8", "--locale=C.UTF-8"]
    subprocess.run([*as_user, *made, "--no-sync"], check=True, stdout=subprocess.DEVNULL, cwd="/")
    control = [*as_user, str(where / "pg_ctl"), "-D", str(data), "-w"]
    options = f"-p {port} -h 127.0.0.1 -k {folder} -F"
    subprocess.run([*control, "-l", str(folder / "log"), "-o", options, "start"], check=True, stdout=subprocess.DEVNULL)
    try:
        yield f"postgresql+psycopg://postgres@127.0.0.1:{port}/"
    finally:
        subprocess.run([*control, "-m", "immediate", "stop"], check=True, stdout=subprocess.DEVNULL)
        shutil.rmtree(folder)


@pytest.fixture
def new_database(server: str) -> Iterator[Callable[[], str]]:
    """Make an empty database and return its address."""
    made: list[str] = []
    engine = create_engine(f"{server}postgres", isolation_level="AUTOCOMMIT")

    def new(options: str = "") -> str:
        name = f"test_{uuid.uuid4().hex[:12]}"
        with engine.connect() as connection:
            connection.execute(text(f"CREATE DATABASE {name} {options}"))
        made.append(name)
        return f"{server}{name}"

    yield new
    with engine.connect() as connection:
        for name in made:
            connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    engine.dispose()


@pytest.fixture
def empty_database(new_database: Callable[[], str]) -> str:
    return new_database()


@pytest.fixture(scope="session")
def template(server: str) -> str:
    """A centre of this release with no edge yet, made once."""
    engine = create_engine(f"{server}postgres", isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text("CREATE DATABASE made_centre"))
    engine.dispose()
    open_centre(f"{server}made_centre", "1.0").close()
    return "made_centre"


@pytest.fixture
def centre_url(new_database: Callable[..., str], template: str) -> str:
    """Return the address of a centre with no edge yet."""
    return new_database(f"TEMPLATE {template}")
