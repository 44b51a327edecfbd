import subprocess
import sys

from tests.ground import ROOT, RealDatabase


def test_a_database_not_migrated_gets_a_sentence(tmp_path):
    process = RealDatabase("sqlite", tmp_path).start("manage.py", "worker")
    output, _ = process.communicate(timeout=60)
    assert process.returncode == 1
    assert "Run “python manage.py migrate”" in output
    assert "Traceback" not in output


def test_beside_another_process_it_ends_when_that_one_has_ended(sqlite_template, tmp_path):
    database = sqlite_template.copy(tmp_path / "home")
    database.more = {"DJANGO_SETTINGS_MODULE": "tests.faults.obedient_settings"}
    done = subprocess.run(
        [sys.executable, "manage.py", "worker", "--beside"],
        cwd=ROOT,
        env=database.env,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
