from parts.fits.forms.links import DesignationForm, SisterForm, SupersedeForm, WithdrawForm
from parts.fits.forms.parts import AGAIN, SPOILT, FitForm, PartForm, show_refusal
from parts.fits.forms.standard import QUESTIONS

__all__ = [
    "AGAIN",
    "QUESTIONS",
    "SPOILT",
    "DesignationForm",
    "FitForm",
    "PartForm",
    "SisterForm",
    "SupersedeForm",
    "WithdrawForm",
    "show_refusal",
]
