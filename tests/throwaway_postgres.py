"""A PostgreSQL server for one run: loopback only, a free port, gone afterwards.

``python -m tests.throwaway_postgres -- pytest`` runs a command with ``DATABASE_URL`` set to it.
Started by root, the server itself runs as the system's ``postgres`` user, which PostgreSQL asks.
"""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

DEBIAN = Path("/usr/lib/postgresql")
SETTINGS = "-c listen_addresses=127.0.0.1 -c unix_socket_directories= -c fsync=off"


class NoServerError(RuntimeError):
    """No server can be started here; its text names what is missing."""


def binaries() -> Path:
    """The folder of ``initdb`` and ``pg_ctl``, of the newest version installed."""
    found = sorted(DEBIAN.glob("*/bin/pg_ctl"), key=lambda path: float(path.parts[-3]))
    on_path = shutil.which("pg_ctl")
    if not found and not on_path:
        raise NoServerError("PostgreSQL's pg_ctl is neither in the path nor under " + str(DEBIAN))
    return found[-1].parent if found else Path(on_path).resolve().parent


def as_server(*command: str | Path) -> list[str]:
    """The command as a user that PostgreSQL agrees to run as."""
    if not hasattr(os, "geteuid") or os.geteuid() != 0:
        return [str(word) for word in command]
    if not shutil.which("runuser"):
        raise NoServerError("root needs the command runuser to start PostgreSQL as another user")
    return ["runuser", "-u", "postgres", "--", *map(str, command)]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def call(*command: str | Path) -> None:
    done = subprocess.run(as_server(*command), capture_output=True, text=True, cwd="/")
    if done.returncode:
        raise NoServerError(f"{command[0]} failed: {done.stdout}{done.stderr}")


@contextmanager
def running() -> Iterator[str]:
    """Yields the URL of the server's own maintenance database."""
    tools = binaries()
    folder = Path(tempfile.mkdtemp(prefix="underbelt-postgres-"))
    data, port = folder / "data", free_port()
    try:
        if as_server()[:1] == ["runuser"]:
            shutil.chown(folder, "postgres")
        initdb = (tools / "initdb", "-D", data, "-U", "underbelt", "-A", "trust")
        call(*initdb, "-E", "UTF8", "--no-locale", "--no-sync")
        options = f"{SETTINGS} -p {port}"
        call(tools / "pg_ctl", "start", "-w", "-D", data, "-l", folder / "log", "-o", options)
        try:
            yield f"postgresql://underbelt@127.0.0.1:{port}/postgres"
        finally:
            call(tools / "pg_ctl", "stop", "-w", "-m", "immediate", "-D", data)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def main(command: list[str]) -> int:
    with running() as url:
        return subprocess.run(command, env=os.environ | {"DATABASE_URL": url}).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[sys.argv.index("--") + 1 :]))
