from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from units.files.services import FileRefusedError, check_paper, check_picture

MOST_PICTURES = 20


class PictureInput(forms.FileInput):
    """A file input that a telephone answers with camera or gallery, with a place for previews.

    Give it the attribute ``data-preview`` to show previews in an element of the page's own.
    """

    template_name = "files/picture_input.html"

    def __init__(self, attrs=None):
        super().__init__({"accept": "image/*"} | (attrs or {}))

    def get_context(self, name, value, attrs):
        context = super().get_context(name, value, attrs)
        attributes = context["widget"]["attrs"]
        if "data-preview" not in attributes:
            place = f"{attributes.get('id', name)}_previews"
            attributes["data-preview"] = context["widget"]["previews"] = place
        return context


class PicturesInput(PictureInput):
    allow_multiple_selected = True


class PictureField(forms.FileField):
    """One picture, checked for bytes, kind and pixels; decoding waits for ``store_picture``."""

    widget = PictureInput
    default_error_messages = {
        "required": gettext_lazy("Choose a picture or take one."),
        "empty": gettext_lazy("This file is empty. Choose the picture again."),
    }

    check = staticmethod(check_picture)

    def clean(self, data, initial=None):
        upload = super().clean(data, initial)
        if upload:
            try:
                self.check(upload)
            except FileRefusedError as error:
                raise ValidationError(str(error)) from error
        return upload


class PaperField(PictureField):
    """A PDF or a picture of a paper; keeping it waits for ``store_paper``."""

    widget = forms.FileInput(attrs={"accept": "application/pdf,image/*"})
    default_error_messages = {
        "required": gettext_lazy("Choose a PDF or a picture."),
        "empty": gettext_lazy("This file is empty. Choose it again."),
    }
    check = staticmethod(check_paper)


class PicturesField(PictureField):
    """Several pictures; cleaned to a list, empty when none was chosen."""

    widget = PicturesInput

    def clean(self, data, initial=None):
        return [super(PicturesField, self).clean(upload, initial) for upload in self.several(data)]

    def several(self, data) -> list:
        """What was chosen, as a list; too many, or none where some are needed, are refused."""
        uploads = data if isinstance(data, list | tuple) else [data] if data else []
        if len(uploads) > MOST_PICTURES:
            raise ValidationError(
                _("Send at most %(most)d pictures at a time.") % {"most": MOST_PICTURES}
            )
        if not uploads and self.required:
            raise ValidationError(self.error_messages["required"], code="required")
        return list(uploads)
