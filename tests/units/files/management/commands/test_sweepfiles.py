import os
import time

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.management import call_command


@pytest.mark.django_db
def test_command_removes_what_was_left_over_since_yesterday(capsys):
    path = default_storage.save("zz/left.jpg", ContentFile(b"left over"))
    two_days_ago = time.time() - 2 * 24 * 3600
    os.utime(default_storage.path(path), (two_days_ago, two_days_ago))
    call_command("sweepfiles")
    assert not default_storage.exists(path)
    assert "Files removed: " in capsys.readouterr().out
