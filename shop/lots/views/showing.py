"""What all views of lots share: finding a lot, and showing a refusal at its field."""

from django.shortcuts import get_object_or_404

from shop.lots.models import Lot, LotLine, LotMachine
from shop.lots.selectors import lines_of, lot_page, machines_of

FIELDS = {"SerialError": "serial", "FileRefusedError": "photo", "PhoneError": "phone",
          "PersonError": "seller", "DayClosedError": "on"}  # fmt: skip


def the_lot(pk: int) -> Lot:
    return get_object_or_404(Lot.objects.select_related("seller"), pk=pk)


def the_whole_lot(pk: int) -> Lot:
    return get_object_or_404(lot_page(), pk=pk)


def the_line(lot: Lot, pk: int) -> LotLine:
    return get_object_or_404(lines_of(), lot=lot, pk=pk)


def the_machine(lot: Lot, pk: int) -> LotMachine:
    return get_object_or_404(machines_of(lot), pk=pk)


def show_refusal(form, error: ValueError) -> None:
    """Put a refusal at the field that it speaks of, or on top."""
    field = getattr(error, "field", None) or FIELDS.get(type(error).__name__)
    form.add_error(field if field in form.fields else None, str(error))
