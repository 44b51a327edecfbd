import os
import secrets
import subprocess
import sys

import pytest

from tests.ground import ROOT

PRODUCTION = {
    "UNDERBELT_MODE": "production",
    "SECRET_KEY": secrets.token_urlsafe(64),
    "ALLOWED_HOSTS": "shop.example",
}


def checked(tmp_path, **more: str) -> subprocess.CompletedProcess:
    kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    words = {"DJANGO_SETTINGS_MODULE": "shop.settings", "UNDERBELT_HOME": str(tmp_path)}
    return subprocess.run(
        [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"],
        cwd=ROOT,
        env=kept | words | more,
        capture_output=True,
        text=True,
    )


@pytest.mark.parametrize(
    "database", ["", "postgresql://nobody@127.0.0.1:9/nothing"], ids=["sqlite", "postgresql"]
)
def test_a_production_set_up_has_no_warning(tmp_path, database):
    done = checked(tmp_path, **PRODUCTION, DATABASE_URL=database)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "no issues (0 silenced)" in done.stdout + done.stderr


def test_a_production_set_up_behind_a_proxy_has_no_warning(tmp_path):
    done = checked(tmp_path, **PRODUCTION, UNDERBELT_PROXY="trusted")
    assert done.returncode == 0, done.stdout + done.stderr


def test_a_production_set_up_brings_its_own_secret(tmp_path):
    done = checked(tmp_path, **PRODUCTION | {"SECRET_KEY": ""})
    assert done.returncode != 0
    assert "Set SECRET_KEY" in done.stderr
    assert not (tmp_path / "secret-key").exists()


def test_the_secret_of_a_development_set_up_is_made_once_and_kept_private(tmp_path):
    checked(tmp_path)
    made = (tmp_path / "secret-key").read_text()
    checked(tmp_path)
    assert (tmp_path / "secret-key").read_text() == made
    assert len(made) > 60
    assert sys.platform == "win32" or (tmp_path / "secret-key").stat().st_mode & 0o777 == 0o600


def test_sqlite_writes_ahead_syncs_fully_and_holds_foreign_keys(sqlite_template, tmp_path):
    answers = sqlite_template.copy(tmp_path / "home").python(
        "from django.db import connection\n"
        "ask = connection.cursor().execute\n"
        "for name in ['journal_mode', 'synchronous', 'foreign_keys', 'busy_timeout']:\n"
        "    print(ask(f'PRAGMA {name}').fetchone()[0])\n"
    )
    assert answers.split() == ["wal", "2", "1", "20000"]
