"""Real databases for tests that need locks, several processes or a server.

A template is migrated and given the reference data once a session; every test then works on a
copy of its own, so nothing has to be flushed (tables that only grow refuse that anyway).
"""

import os
import shutil
import subprocess
import sys
import uuid
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SET_UP = "import django; django.setup()\n"


@dataclass
class RealDatabase:
    """A database that other processes can open, and the folder of its set-up."""

    vendor: str
    home: Path
    url: str = ""
    more: dict[str, str] = field(default_factory=dict)

    @property
    def env(self) -> dict[str, str]:
        """The environment of a process that works on it."""
        words = os.environ | {
            "DJANGO_SETTINGS_MODULE": "shop.settings",
            "UNDERBELT_HOME": str(self.home),
            "DATABASE_URL": self.url,
            "PYTHONWARNINGS": "error",
            "PYTHONPATH": str(ROOT),
            "PYTHONUNBUFFERED": "1",
        }
        return words | self.more

    def start(self, *words: str) -> subprocess.Popen:
        """``python WORDS...`` at work on this database, both outputs in one pipe of text."""
        return subprocess.Popen(
            [sys.executable, *words],
            cwd=ROOT,
            env=self.env,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )

    def manage(self, *words: str) -> str:
        """The output of a command that must succeed."""
        return finished(self.start("manage.py", *words))

    def python(self, code: str) -> str:
        """The output of a piece of Python with Django set up; it must succeed."""
        return finished(self.start("-c", SET_UP + code))


def finished(process: subprocess.Popen) -> str:
    output, _ = process.communicate(timeout=600)
    if process.returncode:
        raise AssertionError(f"exit code {process.returncode}:\n{output}")
    return output


def migrate(database: RealDatabase) -> str:
    return database.manage("migrate", "--verbosity", "0") + database.manage("loadreference")


class SqliteTemplate:
    """``prepare`` fills the first database; ``said`` is what it answered."""

    def __init__(self, folder: Path, prepare: Callable[[RealDatabase], str] = migrate):
        folder.mkdir(parents=True, exist_ok=True)
        self.made = RealDatabase("sqlite", folder)
        self.said = prepare(self.made)

    def copy(self, folder: Path, source: RealDatabase | None = None) -> RealDatabase:
        """A database of its own, like the first one or like another copy."""
        shutil.copytree((source or self.made).home, folder)
        return RealDatabase("sqlite", folder)


class PostgresTemplate:
    """The same on a server, by the URL of its maintenance database; copies by TEMPLATE."""

    def __init__(self, folder: Path, server: str, prepare: Callable[[RealDatabase], str] = migrate):
        folder.mkdir(parents=True, exist_ok=True)
        self.server, self.names = server, []
        self.made = RealDatabase("postgresql", folder, self.create("template0"))
        self.said = prepare(self.made)

    def copy(self, folder: Path, source: RealDatabase | None = None) -> RealDatabase:
        source = source or self.made
        shutil.copytree(source.home, folder)
        return RealDatabase("postgresql", folder, self.create(source.url.rpartition("/")[2]))

    def create(self, template: str) -> str:
        name = f"underbelt_test_{uuid.uuid4().hex}"
        self.ask(f'CREATE DATABASE {name} TEMPLATE "{template}"')
        self.names.append(name)
        return f"{self.server.rpartition('/')[0]}/{name}"

    def drop_all(self) -> None:
        for name in self.names:
            self.ask(f"DROP DATABASE {name} WITH (FORCE)")

    def ask(self, sentence: str) -> None:
        import psycopg

        with psycopg.connect(self.server, autocommit=True) as connection:
            connection.execute(sentence)
