import socket
import subprocess
import sys

import pytest

from tests import throwaway_postgres
from tests.ground import ROOT

ASK = """
import os, psycopg, sys
url = os.environ["DATABASE_URL"]
with psycopg.connect(url) as connection:
    print(url, connection.execute("SHOW listen_addresses").fetchone()[0])
sys.exit(3)
"""


@pytest.mark.postgres
def test_the_server_listens_on_loopback_for_one_command_and_is_gone_afterwards():
    try:
        throwaway_postgres.binaries()
    except throwaway_postgres.NoServerError as missing:
        pytest.skip(f"needs PostgreSQL's binaries: {missing}")
    done = subprocess.run(
        [sys.executable, "-m", "tests.throwaway_postgres", "--", sys.executable, "-c", ASK],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 3, done.stderr
    url, listens_on = done.stdout.split()
    assert listens_on == "127.0.0.1"
    port = int(url.rpartition(":")[2].partition("/")[0])
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.1", port), timeout=5)


def test_missing_binaries_are_named(monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(throwaway_postgres, "DEBIAN", tmp_path)
    with pytest.raises(throwaway_postgres.NoServerError, match="pg_ctl"):
        throwaway_postgres.binaries()
