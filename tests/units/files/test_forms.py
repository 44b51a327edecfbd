from django import forms
from django.utils.datastructures import MultiValueDict

from tests.factories.pictures import picture, upload
from units.files.forms import MOST_PICTURES, PictureField, PictureInput, PicturesField


class OneForm(forms.Form):
    photo = PictureField()


class ManyForm(forms.Form):
    photos = PicturesField(required=False)


def many(*uploads, required=False) -> ManyForm:
    form = ManyForm({}, MultiValueDict({"photos": list(uploads)}))
    form.fields["photos"].required = required
    return form


def test_field_takes_a_picture():
    form = OneForm({}, {"photo": upload()})
    assert form.is_valid()
    assert form.cleaned_data["photo"].name == "plate.jpg"


def test_field_says_what_is_wrong_with_another_file():
    form = OneForm({}, {"photo": upload(b"hello", name="plate.jpg")})
    assert form.errors == {
        "photo": [
            "“plate.jpg” is not a picture that we can keep. Choose a JPEG, PNG, WebP or HEIC file."
        ]
    }


def test_field_asks_for_a_picture_when_none_came():
    assert OneForm({}, {}).errors == {"photo": ["Choose a picture or take one."]}


def test_field_refuses_an_empty_file():
    form = OneForm({}, {"photo": upload(b"")})
    assert form.errors == {"photo": ["This file is empty. Choose the picture again."]}


def test_upload_can_still_be_read_after_the_check():
    form = OneForm({}, {"photo": upload(picture())})
    assert form.is_valid()
    form.cleaned_data["photo"].seek(0)
    assert form.cleaned_data["photo"].read() == picture()


def test_several_pictures_become_a_list():
    form = many(upload(name="a.jpg"), upload(name="b.jpg"))
    assert form.is_valid()
    assert [one.name for one in form.cleaned_data["photos"]] == ["a.jpg", "b.jpg"]


def test_no_picture_becomes_an_empty_list():
    form = many()
    assert form.is_valid()
    assert form.cleaned_data["photos"] == []


def test_several_pictures_are_asked_for_when_they_are_needed():
    assert many(required=True).errors == {"photos": ["Choose a picture or take one."]}


def test_one_wrong_file_among_several_is_named():
    form = many(upload(name="a.jpg"), upload(b"text", name="b.txt"))
    assert "“b.txt”" in form.errors["photos"][0]


def test_too_many_pictures_at_once_are_refused():
    form = many(*(upload() for _ in range(MOST_PICTURES + 1)))
    assert form.errors == {"photos": ["Send at most 20 pictures at a time."]}


def test_input_offers_pictures_and_shows_them_below():
    html = str(OneForm()["photo"])
    assert 'accept="image/*"' in html
    assert 'data-preview="id_photo_previews"' in html
    assert '<div class="previews" id="id_photo_previews"></div>' in html
    assert "capture" not in html


def test_input_of_several_allows_several():
    assert "multiple" in str(ManyForm()["photos"])


def test_page_may_show_previews_in_a_place_of_its_own():
    html = PictureInput({"data-preview": "there"}).render("photo", None, {"id": "id_photo"})
    assert 'data-preview="there"' in html
    assert "<div" not in html
