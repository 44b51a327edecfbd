"""How an act answers: done, or refused in sentences."""

from collections.abc import Callable

from django.contrib import messages
from django.shortcuts import redirect

from parts.days.services import DayClosedError
from parts.stock.services import StockError
from shop.floor.services import FloorError
from shop.till.domain.errors import TillError
from shop.work.services.errors import JobError

REFUSALS = (JobError, TillError, FloorError, StockError, DayClosedError)


def refuse(form, error: ValueError) -> None:
    """Put a refusal at the field it speaks of, else above the form, a sentence a line."""
    field = getattr(error, "field", None)
    sentences = getattr(error, "sentences", None) or [str(error)]
    form.add_error(field if field in form.fields else None, sentences)


def attempt(request, act: Callable, done: str, number: str):
    """Do an act without a form and go back to the job, with what came of it."""
    try:
        act()
    except REFUSALS as error:
        messages.error(request, str(error))
    else:
        messages.success(request, done)
    return redirect("job", number=number)
