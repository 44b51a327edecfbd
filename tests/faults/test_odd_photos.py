"""What nobody should send, sent to the true reader: a sentence each, and the worker lives on."""

import json
import time

import pytest

ASK = """
import json
from django.contrib.auth.models import User
from django.utils import timezone
from tests.factories.pictures import upload
from tests.platemaker import make_photo, oddities
from units.files.models import StoredFile
from units.files.services import FileRefusedError
from units.plates.models import PlateReading
from units.plates.services import ask_reading

by = User.objects.create_user("sender")
photos = {
    "no plate": oddities.no_plate(),
    "dog": oddities.dog(),
    "forty megapixels": oddities.forty_megapixels(),
    "truncated": oddities.truncated(),
    "bomb": oddities.bomb(),
    "hollow bomb": oddities.hollow_bomb(),
} | oddities.polyglots() | {
    "plate": make_photo(seed=5, tier="easy", families="tune").jpeg,
}
said = {}
for name, content in photos.items():
    try:
        said[name] = ask_reading(
            upload=upload(content, name=f"{name}.jpg"), by=by, at=timezone.now()
        ).state
    except FileRefusedError as error:
        said[name] = str(error)
# The worker may have cut out a plate already: that file is none of those sent.
cut_out = PlateReading.objects.filter(crop__isnull=False).values("crop")
sent = StoredFile.objects.exclude(pk__in=cut_out)
print(json.dumps([said, PlateReading.objects.count(), sent.count()]))
"""
SHOW = """
import json
from units.plates.models import PlateReading
print(json.dumps({
    one.photo.original_name.removesuffix(".jpg"): [one.state, one.outcome, one.crop_id is not None]
    for one in PlateReading.objects.select_related("photo")
}))
"""
READ = {"no plate", "dog", "a photo with an archive behind it", "a photo with a page behind it"}


@pytest.fixture
def database(sqlite_template, tmp_path):
    return sqlite_template.copy(tmp_path / "home")


@pytest.fixture
def worker(database):
    process = database.start("manage.py", "worker")
    yield process
    process.terminate()
    output, _ = process.communicate(timeout=30)
    assert output == ""


def test_odd_photos_get_a_sentence_or_a_reading_and_the_worker_lives_on(database, worker):
    said, readings, files = json.loads(database.python(ASK))
    refused = {name: sentence for name, sentence in said.items() if sentence != "waiting"}
    assert refused == {
        "forty megapixels": "“forty megapixels.jpg” measures 7400 by 5450 pixels; a picture may "
        "have 25 million in all. Take it again at a lower resolution.",
        "truncated": "“truncated.jpg” is damaged or was cut off on its way. Take the picture "
        "again.",
        "bomb": "“bomb.jpg” measures 50000 by 50000 pixels; a picture may have 25 million in "
        "all. Take it again at a lower resolution.",
        "hollow bomb": "“hollow bomb.jpg” measures 50000 by 50000 pixels; a picture may have 25 "
        "million in all. Take it again at a lower resolution.",
        "a page that begins like a picture": "“a page that begins like a picture.jpg” is not a "
        "picture that we can keep. Choose a JPEG, PNG, WebP or HEIC file.",
        "a page with a photo behind it": "“a page with a photo behind it.jpg” is not a picture "
        "that we can keep. Choose a JPEG, PNG, WebP or HEIC file.",
    }
    assert readings == files == len(said) - len(refused)
    assert set(said) - set(refused) == {*READ, "plate"}

    until = time.monotonic() + 120
    while time.monotonic() < until:
        shown = json.loads(database.python(SHOW))
        if {state for state, *_rest in shown.values()} <= {"read", "unread"}:
            break
        time.sleep(0.5)
    assert {state for state, *_rest in shown.values()} == {"read"}
    assert shown["no plate"] == ["read", "type", False]
    assert shown["dog"][1] == "type"
    assert shown["plate"][2] is True
    assert worker.poll() is None
