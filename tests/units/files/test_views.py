import uuid

import pytest
from django.core.files.storage import default_storage
from django.urls import reverse

from tests.factories.pictures import picture, upload
from tests.factories.units import MORNING, PersonFactory, StoredFileFactory
from units.files.services import store_picture

pytestmark = pytest.mark.django_db


def read(answer) -> bytes:
    """The whole file. To close an answer unread would close the test's own database connection."""
    return answer.getvalue()


@pytest.fixture
def stored():
    large = upload(picture(size=(900, 600)))
    return store_picture(upload=large, by=PersonFactory(), at=MORNING)


def signed_in(client, *seats):
    client.force_login(PersonFactory(seats=seats))
    return client


def test_bench_sees_a_bench_file_with_safe_headers(client, stored):
    response = signed_in(client, "technician").get(reverse("file", args=[stored.pk]))
    assert b"".join(response.streaming_content)[:3] == b"\xff\xd8\xff"
    assert response["Content-Type"] == "image/jpeg"
    assert response["Content-Disposition"] == f'inline; filename="{stored.pk.hex}.jpeg"'
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["Cache-Control"] == "private, no-cache"


def test_small_copy_is_smaller(client, stored):
    signed_in(client, "technician")
    small = client.get(reverse("file-small", args=[stored.pk]))
    assert len(read(small)) < stored.size


def test_unchanged_file_is_not_sent_again(client, stored):
    signed_in(client, "technician")
    address = reverse("file", args=[stored.pk])
    first = client.get(address)
    read(first)
    assert client.get(address, headers={"if-none-match": first["ETag"]}).status_code == 304


def test_small_and_large_copy_are_told_apart(client, stored):
    signed_in(client, "technician")
    first = client.get(reverse("file", args=[stored.pk]))
    read(first)
    other = client.get(
        reverse("file-small", args=[stored.pk]), headers={"if-none-match": first["ETag"]}
    )
    read(other)
    assert other.status_code == 200


@pytest.mark.parametrize(
    ("seat", "audience", "status"),
    [
        ("front desk", "bench", 200),
        ("owner", "bench", 200),
        ("accountant", "bench", 404),
        ("accountant", "office", 200),
        ("technician", "office", 404),
        ("front desk", "office", 404),
    ],
)
def test_file_is_shown_to_its_audience_only(client, seat, audience, status):
    stored = store_picture(upload=upload(), audience=audience, by=PersonFactory(), at=MORNING)
    response = signed_in(client, seat).get(reverse("file", args=[stored.pk]))
    read(response)
    assert response.status_code == status


def test_seat_outside_the_audience_learns_nothing_by_a_known_tag(client, stored):
    address = reverse("file", args=[stored.pk])
    first = signed_in(client, "technician").get(address)
    read(first)
    signed_in(client, "accountant")
    assert client.get(address, headers={"if-none-match": first["ETag"]}).status_code == 404


def test_file_nobody_stored_is_not_found(client):
    response = signed_in(client, "owner").get(reverse("file", args=[uuid.uuid4()]))
    assert response.status_code == 404


def test_row_without_bytes_is_not_found(client):
    stored = StoredFileFactory()
    assert not default_storage.exists(stored.path)
    assert signed_in(client, "owner").get(reverse("file", args=[stored.pk])).status_code == 404


def test_nobody_signed_in_is_sent_to_the_door(client, stored):
    response = client.get(reverse("file", args=[stored.pk]))
    assert response.status_code == 302
    assert response["Location"].startswith(reverse("sign-in"))
