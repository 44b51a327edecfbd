import pytest
from django.urls import reverse

from tests.factories.pictures import pdf, picture, upload
from tests.factories.units import MORNING, PersonFactory
from units.files.forms import PaperField
from units.files.models import StoredFile
from units.files.services import FileRefusedError, content_of, store_paper

pytestmark = pytest.mark.django_db


@pytest.fixture
def store(settings, tmp_path):
    default = settings.STORAGES["default"] | {"OPTIONS": {"location": tmp_path}}
    settings.STORAGES = settings.STORAGES | {"default": default}
    person = PersonFactory()

    def act(content=None, name="TR-90 manual.PDF", **other):
        words = {"by": person, "at": MORNING} | other
        sent = upload(pdf() if content is None else content, name=name, kind="application/pdf")
        return store_paper(upload=sent, **words)

    return act


def test_a_pdf_is_kept_byte_for_byte_under_a_name_of_our_own(store):
    kept = store()
    assert (kept.media_type, kept.size, kept.width) == ("application/pdf", len(pdf()), None)
    assert kept.path == f"{kept.pk.hex[:2]}/{kept.pk.hex}.pdf"
    assert content_of(file=kept) == pdf()


def test_a_picture_of_a_paper_is_drawn_again_like_every_picture(store):
    kept = store(picture("PNG"), name="diagram.png")
    assert (kept.media_type, kept.width) == ("image/jpeg", 40)


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"<html><script>alert(1)</script></html>", "neither a PDF nor a picture"),
        (b"GIF89a and then %PDF-1.7 %%EOF", "neither a PDF nor a picture"),
        (b"", "neither a PDF nor a picture"),
        (pdf(end=b""), "was cut off on its way"),
        (picture()[:300], "is damaged or was cut off"),
    ],
)
def test_what_is_not_a_whole_paper_is_refused_with_the_way_out(store, content, sentence):
    with pytest.raises(FileRefusedError, match=sentence):
        store(content)
    assert StoredFile.objects.count() == 0


def test_a_pdf_that_is_too_large_is_refused(store, settings):
    settings.UPLOAD_MAX_BYTES = 1_000_000
    with pytest.raises(FileRefusedError, match="has 2 MB; a PDF may have 1 MB"):
        store(pdf(text="x" * 1_000_001))


def test_the_file_is_removed_when_its_row_cannot_be_written(store, tmp_path):
    with pytest.raises(ValueError, match="unsaved"):
        store(by=PersonFactory.build())
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_a_pdf_is_handed_out_to_be_saved_and_never_shown_in_a_page(store, client):
    kept = store()
    client.force_login(PersonFactory(seats=["technician"]))
    answer = client.get(reverse("file", args=[kept.pk]))
    assert answer.getvalue() == pdf()
    assert answer["Content-Disposition"] == 'attachment; filename="TR-90 manual.pdf"'
    assert (answer["Content-Type"], answer["X-Content-Type-Options"]) == (
        "application/pdf",
        "nosniff",
    )


def test_the_small_copy_of_a_pdf_is_the_pdf(store, client):
    kept = store()
    client.force_login(PersonFactory(seats=["technician"]))
    assert client.get(reverse("file-small", args=[kept.pk])).getvalue() == pdf()


def test_a_hostile_name_stays_a_name(store, client):
    kept = store(name='..\\"\r\nSet-Cookie: x=1\n<script>.pdf')
    client.force_login(PersonFactory(seats=["technician"]))
    answer = client.get(reverse("file", args=[kept.pk]))
    answer.getvalue()
    assert "\n" not in answer["Content-Disposition"]
    assert "Set-Cookie" not in answer.headers


def test_the_field_says_what_is_wrong():
    assert PaperField().clean(upload(pdf(), name="manual.pdf")).name == "manual.pdf"
    with pytest.raises(Exception, match="neither a PDF nor a picture"):
        PaperField().clean(upload(b"hello", name="manual.pdf"))
