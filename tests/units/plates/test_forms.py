import pytest
from django.utils.datastructures import MultiValueDict

from tests.factories.pictures import upload
from tests.factories.plates import a_proposal, blank, said
from tests.factories.units import KindFactory, MachineModelFactory, PlateReadingFactory
from units.plates.forms import ConfirmForm, KindForm, PhotosToReadForm, PlateForm

pytestmark = pytest.mark.django_db
TYPED = {"maker": "Corvane", "number": "TM-9", "serial": "CV100"}
DOUBT = said("serial", "CV100", "look", {"CV1OO": 0.3, "CVI00": 0.05})


@pytest.fixture
def model():
    return MachineModelFactory(number="TM-9")


def confirm(proposal=None, **sent) -> ConfirmForm:
    return ConfirmForm(TYPED | sent, proposal=proposal)


def without(proposal, *names, **sent) -> ConfirmForm:
    typed = {name: text for name, text in TYPED.items() if name not in names}
    return ConfirmForm(typed | sent, proposal=proposal)


def test_what_is_sure_is_filled_in_and_nothing_else():
    supply = said("volts", "120"), said("hertz", "60", "look")
    form = ConfirmForm(proposal=a_proposal(DOUBT, *supply))
    filled = {name: form[name].value() for name in form.fields if form[name].value()}
    assert filled == {"maker": "Corvane", "number": "TM-9", "volts": "120"}
    assert "60" in form.fields["hertz"].help_text


def test_candidates_stand_in_their_order_each_with_a_word():
    asked = ConfirmForm(proposal=a_proposal(DOUBT)).asked
    assert [text for text, label in asked[0].candidates] == ["CV100", "CV1OO", "CVI00"]
    words = [label.split("<small>")[1].split("<")[0] for text, label in asked[0].candidates]
    assert words == ["likely", "possible", "less likely"]
    assert asked[0].piece == "serial"


def test_what_has_to_be_typed_gives_a_hint_and_no_value():
    (asked,) = ConfirmForm(proposal=a_proposal(said("serial", "CV100", "type"))).asked
    assert (asked.field.value(), asked.other, asked.candidates) == (None, None, [])
    assert "CV100" in asked.field.help_text


def test_all_is_asked_of_a_photo_that_shows_nothing():
    form = ConfirmForm(proposal=blank())
    assert [asked.field.name for asked in form.asked] == ["maker", "number", "serial"]
    assert not any(asked.piece for asked in form.asked)


@pytest.mark.usefixtures("model")
@pytest.mark.parametrize(
    ("sent", "serial"),
    [
        ({"serial": "CV1OO"}, "CV1OO"),
        ({"serial": "-", "serial_other": " CV 200 "}, "CV 200"),
        ({"serial_other": "CV200"}, "CV200"),
        ({"serial": "CV100", "serial_other": "cv 100"}, "cv 100"),
        ({"serial": "-"}, ""),
    ],
)
def test_one_of_the_candidates_or_something_else_is_confirmed(sent, serial):
    form = without(a_proposal(DOUBT), "serial", **sent)
    assert form.is_valid(), form.errors
    assert form.confirmed()["serial"] == serial


@pytest.mark.usefixtures("model")
@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        ({}, "Choose what the plate says"),
        ({"serial": "CV100", "serial_other": "CV200"}, "Keep one of the two"),
        ({"serial": "x" * 61}, "at most 60 characters"),
        ({"serial_other": "   "}, "letters or digits"),
    ],
)
def test_no_choice_or_two_of_them_get_a_sentence(sent, sentence):
    form = without(a_proposal(DOUBT), "serial", **sent)
    assert sentence in str(form.errors)


def test_a_model_that_is_something_else_has_to_be_typed():
    form = without(a_proposal(said("model", "TM-9", "look")), "number", number="-")
    assert "Type what the plate says." in form.errors["number"]


def test_candidates_are_shown_as_text_never_as_markup():
    (asked,) = ConfirmForm(proposal=a_proposal(said("serial", "<b>1", "look"))).asked
    assert "&lt;b&gt;1" in asked.candidates[0][1]


def test_a_model_that_nobody_met_needs_a_kind():
    assert "Say what kind" in str(confirm(a_proposal()).errors["kind"])
    assert confirm(a_proposal(), kind=KindFactory().pk).is_valid()


@pytest.mark.usefixtures("model")
def test_a_known_model_needs_no_kind_however_it_is_written():
    assert KindForm({"maker": "CORVANE", "number": "tm 9"}).is_valid()


def test_the_kind_is_shown_only_where_it_may_be_needed(model):
    known = ConfirmForm(proposal=a_proposal(), catalogued=model)
    assert not known.asks_kind
    assert ConfirmForm(proposal=a_proposal()).asks_kind
    changed = ConfirmForm(TYPED | {"number": "TM-10"}, proposal=a_proposal(), catalogued=model)
    assert changed.asks_kind


@pytest.mark.usefixtures("model")
def test_supply_and_date_go_along():
    form = confirm(a_proposal(), volts="120", made="2019-03")
    assert form.is_valid()
    assert (form.confirmed()["volts"], form.confirmed()["made"]) == ("120", "2019-03")


def files(*uploads):
    return MultiValueDict({"photo": list(uploads)})


def test_photos_are_judged_one_by_one_later():
    form = PhotosToReadForm({}, files(upload(b"text"), upload()))
    assert form.is_valid()
    assert len(form.cleaned_data["photo"]) == 2


def test_no_photo_and_too_many_get_a_sentence():
    assert "Choose a picture" in str(PhotosToReadForm({}, files()).errors["photo"])
    many = PhotosToReadForm({}, files(*[upload() for _ in range(21)]))
    assert "at most 20" in str(many.errors["photo"])


def test_a_photo_sent_beforehand_needs_no_second_upload():
    reading = PlateReadingFactory()
    form = PlateForm(TYPED | {"reading": reading.pk}, {})
    assert form.is_valid(), form.errors
    assert form.cleaned_data["reading"] == reading


def test_a_photo_that_comes_along_is_newer_than_the_one_sent_beforehand():
    form = PlateForm(TYPED | {"reading": PlateReadingFactory().pk}, {"photo": upload()})
    assert form.is_valid()
    assert form.cleaned_data["reading"] is None
    assert form["reading"].value() == ""


@pytest.mark.parametrize("wrong", ["x", "00000000-0000-4000-8000-000000000000"])
def test_a_photo_that_is_not_here_gets_a_sentence(wrong):
    form = PlateForm(TYPED | {"reading": wrong}, {})
    assert "Choose it once more" in str(form.errors["reading"])
    assert form.kept_reading is None


def test_a_plate_needs_a_photo():
    assert list(PlateForm(TYPED, {}).errors) == ["photo"]
