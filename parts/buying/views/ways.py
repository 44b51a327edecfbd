"""What the pages of buying share."""

from django.urls import reverse_lazy
from django.utils.translation import gettext_lazy

from parts.days.services import DayClosedError
from parts.fits.forms import show_refusal
from parts.fits.services import RefusedError
from units.catalogue.services import CatalogueError

# Pages of the other apps are reached by address: a template names its own app's URLs only.
SHELF = (reverse_lazy("shelf"), gettext_lazy("What is on the shelf"))
REFUSALS = (RefusedError, DayClosedError, CatalogueError)


def show_at_row(form, rows, error: ValueError) -> None:
    """Put a service's sentence at the row that it blames, else on the form that heads the rows."""
    row = getattr(error, "row", None)
    show_refusal(form if row is None else rows[row], error)
