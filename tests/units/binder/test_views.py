import uuid

import pytest
from django.urls import reverse

from tests.factories.pictures import pdf, upload
from tests.factories.units import ComponentFactory, PersonFactory
from units.binder.models import BenchNote, ErrorCode, ModelFile
from units.binder.selectors import binder_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(client, person):
    client.force_login(person)
    return client


@pytest.fixture
def send(bench, model):
    def act(name, args=None, **words):
        return bench.post(reverse(name, args=args or [model.pk]), words)

    return act


@pytest.mark.parametrize("name", ["model-file-add", "model-note-add", "error-code-add"])
def test_each_form_is_shown_and_a_model_that_nobody_knows_is_not_found(bench, model, name):
    assert bench.get(reverse(name, args=[model.pk])).status_code == 200
    assert bench.get(reverse(name, args=[99999])).status_code == 404


def test_a_link_may_say_that_service_mode_is_to_be_written(bench, model):
    page = bench.get(reverse("model-note-add", args=[model.pk]), {"sort": "service-mode"})
    assert page.context["form"]["sort"].value() == "service-mode"


def test_a_note_is_written_once_however_often_the_form_is_sent(send, model):
    words = {"key": uuid.uuid4(), "sort": "bench", "text": "The hood screws are soft."}
    first = send("model-note-add", pinned="on", **words)
    assert first.url == model.get_absolute_url()
    assert send("model-note-add", **words).status_code == 302
    note = BenchNote.objects.with_pin().get()
    assert (note.text, note.pinned) == ("The hood screws are soft.", True)


@pytest.mark.parametrize("text", ["", "   ", "x" * 4001])
def test_a_note_that_says_nothing_or_too_much_is_refused_at_its_field(send, text):
    page = send("model-note-add", key=uuid.uuid4(), sort="bench", text=text)
    assert page.status_code == 422
    assert page.context["form"].errors.keys() == {"text"}
    assert not BenchNote.objects.exists()


def test_a_code_is_written_with_its_suspects(send, model):
    ComponentFactory(slug="speed-sensor")
    page = send(
        "error-code-add", code="E1", meaning="no pulses", source="bench",
        components=["speed-sensor"],
    )  # fmt: skip
    assert page.status_code == 302
    code = ErrorCode.objects.get()
    assert [component.pk for component in code.components.all()] == ["speed-sensor"]


@pytest.mark.parametrize(
    ("words", "field"),
    [
        ({"code": "--"}, "code"),
        ({"code": ""}, "code"),
        ({"meaning": ""}, "meaning"),
        ({"source": "x" * 121}, "source"),
        ({"components": ["no-such-thing"]}, "components"),
        ({"components": ["return-cord"]}, "components"),
    ],
)
def test_a_faulty_code_is_refused_at_its_field_and_nothing_is_lost(send, words, field):
    ComponentFactory(slug="return-cord")
    words = {"code": "E1", "meaning": "no pulses", "source": "bench"} | words
    page = send("error-code-add", **words)
    assert page.status_code == 422
    assert page.context["form"].errors.keys() == {field}
    assert page.context["form"]["source"].value() == words["source"]
    assert not ErrorCode.objects.exists()


def test_a_paper_is_kept(send):
    sent = upload(pdf(), name="manual.pdf", kind="application/pdf")
    page = send("model-file-add", shows="manual", title="Service manual", upload=sent)
    assert page.status_code == 302
    assert ModelFile.objects.get().title == "Service manual"


@pytest.mark.parametrize("content", [b"", b"MZ\x90 a program", pdf(end=b"")])
def test_what_is_no_paper_is_refused_at_the_file(send, content):
    page = send("model-file-add", shows="manual", title="x", upload=upload(content, name="m.pdf"))
    assert page.status_code == 422
    assert page.context["form"].errors.keys() == {"upload"}


def test_the_same_paper_twice_is_refused_at_the_file(send):
    for status in (302, 422):
        sent = upload(pdf(), name="manual.pdf")
        page = send("model-file-add", shows="manual", title="Service manual", upload=sent)
        assert page.status_code == status
    assert "here already" in page.content.decode()


def test_a_note_is_pinned_and_unpinned(send, write):
    note = write.note()
    for pinned, stands in [("1", True), ("0", False), ("nonsense", False)]:
        assert send("note-pin", [note.pk], pinned=pinned).status_code == 302
        assert BenchNote.objects.with_pin().get().pinned is stands


@pytest.mark.parametrize("sort", ["paper", "note", "code"])
def test_an_entry_is_taken_out_with_a_reason(bench, send, write, model, sort):
    entry = getattr(write, sort)()
    address = [sort, entry.pk]
    assert str(entry) in bench.get(reverse("entry-take-out", args=address)).content.decode()
    assert send("entry-take-out", address, reason=" ").status_code == 422
    assert send("entry-take-out", address, reason="wrong model").status_code == 302
    again = send("entry-take-out", address, reason="wrong model")
    assert again.status_code == 422
    binder = binder_of([model.pk])
    assert not binder.files + binder.notes + binder.codes


@pytest.mark.parametrize("address", [["sticker", 1], ["note", 99999]])
def test_what_is_not_in_a_binder_is_not_found(bench, address):
    assert bench.get(reverse("entry-take-out", args=address)).status_code == 404


@pytest.mark.parametrize("seat", ["front desk", "accountant"])
def test_only_the_bench_and_the_owner_write_into_a_binder(client, model, seat):
    client.force_login(PersonFactory(seats=[seat]))
    words = {"key": uuid.uuid4(), "sort": "bench", "text": "x"}
    assert client.post(reverse("model-note-add", args=[model.pk]), words).status_code == 403
