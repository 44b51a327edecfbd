import pytest
from django import forms

from tests.factories.units import KindFactory, MachineModelFactory
from units.catalogue.forms import MergeForm, ModelForm, SerialField


class SerialForm(forms.Form):
    serial = SerialField()


def test_serial_field_tidies_spaces():
    form = SerialForm({"serial": " CV  1 "})
    assert form.is_valid()
    assert form.cleaned_data["serial"] == "CV 1"


def test_empty_serial_says_that_nobody_can_read_it():
    form = SerialForm({"serial": ""})
    assert form.is_valid()
    assert form.cleaned_data["serial"] == ""


def test_serial_of_spaces_gets_a_sentence_at_the_field():
    assert SerialForm({"serial": "   "}).errors == {
        "serial": ["A serial number has letters or digits. Leave it empty if nobody can read it."]
    }


@pytest.mark.django_db
@pytest.mark.parametrize(
    "wrong", [{"amps": "-1"}, {"mass": "heavy"}, {"volts": "99999999"}, {"amps": "1.25"}]
)
def test_wrong_measure_gets_a_sentence_at_its_field(wrong):
    model = MachineModelFactory()
    form = ModelForm({"number": "TM-1", "kind": model.kind_id} | wrong, instance=model)
    assert list(form.errors) == list(wrong)


@pytest.mark.django_db
def test_merge_offers_current_models_of_the_same_kind():
    model, other = MachineModelFactory(), MachineModelFactory()
    MachineModelFactory(merged_into=other)
    MachineModelFactory(kind=KindFactory(slug="rower"))
    assert list(MergeForm(model=model).fields["into"].queryset) == [other]
