from django import forms
from django.utils.translation import gettext_lazy as _

from shop.people.domain.phones import PhoneError
from shop.people.models import Customer, Place, ShopProfile
from shop.people.services import read_phone


class PhoneField(forms.CharField):
    """A telephone number as a person types it; cleaned to E.164."""

    widget = forms.TextInput(attrs={"type": "tel", "autocomplete": "off"})

    def __init__(self, **kwargs):
        super().__init__(**{"max_length": 40, "required": False} | kwargs)

    def clean(self, value):
        try:
            return read_phone(super().clean(value))
        except PhoneError as error:
            raise forms.ValidationError(str(error)) from error


def shown_phone(instance) -> dict[str, str]:
    """First values of a form on a record: the number as people write it."""
    return {"phone": instance.phone_shown} if instance else {}


class CustomerForm(forms.ModelForm):
    phone = PhoneField(label=_("Telephone"))

    class Meta:
        model = Customer
        fields = ["name", "sort", "phone", "email", "tax_exempt_reason", "note"]
        widgets = {"sort": forms.RadioSelect, "note": forms.Textarea(attrs={"rows": 2})}
        help_texts = {
            "tax_exempt_reason": _(
                "The reason and the certificate, as it is printed on invoices. While it stands "
                "here no tax is charged; whether that is right is the accountant's call."
            )
        }

    def __init__(self, *args, instance=None, **kwargs):
        super().__init__(*args, instance=instance, initial=shown_phone(instance), **kwargs)


class PlaceForm(forms.ModelForm):
    class Meta:
        model = Place
        fields = ["name", "street", "town", "postcode", "access"]
        help_texts = {
            "name": _("What you both call it: home, gym on the second floor."),
            "access": _("Steps, turns, lift, doorways, whom to ask for the key."),
        }


class ProfileForm(forms.ModelForm):
    phone = PhoneField(label=_("Telephone"))

    class Meta:
        model = ShopProfile
        fields = ["name", "address", "phone", "email", "tax_number"]

    def __init__(self, *args, instance=None, **kwargs):
        super().__init__(*args, instance=instance, initial=shown_phone(instance), **kwargs)
