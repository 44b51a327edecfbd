from django.contrib import messages
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods
from django.views.generic import ListView

from parts.days.services import DayClosedError
from parts.fits.forms import show_refusal
from parts.fits.selectors import fittings
from parts.stock.forms import ScrapPieceForm, StripForm, StripLineForm, TakeOffForm
from parts.stock.models import Bin, DonorComponent
from parts.stock.selectors import cost_left_on, donors, strip_list, with_pieces
from parts.stock.services import (
    StockError,
    find_or_add_bin,
    scrap_piece,
    take_off_donor,
)
from units.show.notices import tell

REFUSALS = (StockError, DayClosedError)


class DonorList(ListView):
    queryset = donors()
    template_name = "stock/donor_list.html"
    context_object_name = "donors"
    paginate_by = 50


@require_GET
def donor(request, pk):
    found = get_object_or_404(with_pieces(donors()), pk=pk)
    context = {"donor": found, "left": cost_left_on(found)}
    return render(request, "stock/donor.html", context)


@require_GET
def donor_labels(request, pk):
    """A label for each piece that lies in a bin, with the donor's serial, to print."""
    found = get_object_or_404(with_pieces(donors()), pk=pk)
    pieces = [piece for piece in found.listed if piece.bin_id and piece.state != "scrapped"]
    return render(request, "stock/labels.html", {"donor": found, "pieces": pieces})


def strip_page(request, unit, *, known, strip):
    """The strip list of a machine, for the house above, which knows whose it is: it hands in what
    it knows (``document``, ``cost``) and ``strip``, which takes ``unit, lines, document, cost, on,
    key, by, at`` and gives the donor."""
    data = request.POST or None
    form = StripForm(data, initial={"on": timezone.localdate()}, known=known)
    lines = _line_forms(unit, data)
    if all([form.is_valid(), *(line.is_valid() for line in lines)]):
        at, said = timezone.now(), form.cleaned_data | known
        said["lines"] = [line.line() for line in lines]
        try:
            made = strip(unit=unit, **said, by=request.user, at=at)
        except REFUSALS as error:
            row = getattr(error, "row", None)
            show_refusal(form if row is None else lines[row], error)
        else:
            tell(request, _("The machine is taken apart."), written_at=made.recorded_at, at=at)
            return redirect(made)
    bins = Bin.objects.all()
    context = {"form": form, "lines": lines, "unit": unit, "known": known, "bins": bins}
    return render(request, "stock/strip.html", context, status=422 if form.is_bound else 200)


def _line_forms(unit, data) -> list[StripLineForm]:
    """A row for each component, with the number of the one part that is known to fit it."""
    fitting = fittings([unit.model]).get(unit.model_id, {})
    forms = []
    for row in strip_list(unit):
        known = {one.part.number for one in fitting.get(row.component_id, ()) if one.via == "fits"}
        start = {"part": known.pop()} if len(known) == 1 else {}
        forms.append(
            StripLineForm(
                data,
                prefix=row.component_id,
                component=row.component,
                maker=unit.maker,
                initial=start,
            )
        )
    return forms


@require_http_methods(["GET", "POST"])
def donor_take(request, pk, piece):
    found = _piece(pk, piece)
    start = {"on": timezone.localdate(), "bin": found.bin or "", "part": ""}
    form = TakeOffForm(request.POST or None, initial=start)
    form.fields["part"].maker = found.donor.unit.maker
    if form.is_valid():
        try:
            _take(found, form.cleaned_data, request.user)
        except REFUSALS as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("It is on the shelf."))
            return redirect(found.donor)
    return _render_piece(request, form, found, "stock/donor_take.html")


@transaction.atomic
def _take(piece, said, by):
    place = find_or_add_bin(name=said["bin"])
    return take_off_donor(
        piece=piece, part=said["part"], bin=place, on=said["on"], by=by, at=timezone.now()
    )


@require_http_methods(["GET", "POST"])
def donor_scrap(request, pk, piece):
    found = _piece(pk, piece)
    form = ScrapPieceForm(request.POST or None, initial={"on": timezone.localdate()})
    if form.is_valid():
        said = form.cleaned_data
        try:
            scrap_piece(piece=found, **said, by=request.user, at=timezone.now())
        except REFUSALS as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("It is scrapped."))
            return redirect(found.donor)
    return _render_piece(request, form, found, "stock/donor_scrap.html")


def _piece(pk, piece) -> DonorComponent:
    pieces = DonorComponent.objects.select_related(
        "component", "bin", "donor__unit__maker", "donor__unit__model__maker"
    )
    return get_object_or_404(pieces, pk=piece, donor=pk)


def _render_piece(request, form, piece, template):
    context = {"form": form, "piece": piece, "donor": piece.donor, "bins": Bin.objects.all()}
    return render(request, template, context, status=422 if form.errors else 200)
