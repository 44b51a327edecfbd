"""Take a machine apart by a list; each piece carries its share of what the machine cost."""
# ruff: noqa: A002 - a bin is the trade's word

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from parts.fits.models import Part
from parts.stock.domain.sharing import share_by_value
from parts.stock.models import Bin, Donor, DonorComponent, StockMove
from parts.stock.services.moving import MOST_COST, receive_stock, require_come
from parts.stock.services.shelves import StockError, find_or_add_bin
from units.catalogue.models import Component, KindComponent, Unit
from units.show.words import day as written

TAKE, LEAVE, SCRAP = "take", "leave", "scrap"


@dataclass(frozen=True)
class StripLine:
    """What becomes of one component.

    ``fate`` is ``take`` (into a bin), ``leave`` (still on the machine) or ``scrap``. ``value`` is
    what it is worth beside the others; the cost is shared by it. A piece in a bin without a part
    number has no place in the ledger and carries no cost.
    """

    component: Component
    grade: str
    fate: str
    part: Part | None = None
    bin_name: str = ""
    value: Decimal = Decimal(0)

    @property
    def carries_cost(self) -> bool:
        return self.fate == LEAVE or (self.fate == TAKE and self.part is not None)


class StripError(StockError):
    """``row`` counts, from 0, the line to blame among those that were handed in."""

    def __init__(self, sentence: str, field: str | None = None, row: int | None = None):
        super().__init__(sentence, field)
        self.row = row


@transaction.atomic
def strip_donor(
    *, unit: Unit, lines: Sequence[StripLine], cost: Decimal, on: date, document: str, by, at,
    key: UUID | None = None,
) -> Donor:  # fmt: skip
    """Make a donor of a machine: grade, keep or scrap each component, and share the cost.

    What is taken with a part number comes onto the shelf at its share; what is left on the machine
    keeps its share until it is taken. A machine is stripped once; the same ``key`` gives its donor.
    """
    Unit.objects.select_for_update(of=("self",)).get(pk=unit.pk)
    earlier = Donor.objects.filter(unit=unit).first()
    if earlier and key and earlier.key == key:
        return earlier
    if earlier:
        raise StripError(
            _("This machine is a donor already, since %(day)s.")
            % {"day": written(earlier.stripped_on)}
        )
    _require_sense(unit, lines, cost)
    require_come(on, at)
    require_open(on)
    donor = Donor.objects.create(
        unit=unit, document=document, cost=cost, key=key, stripped_on=on,
        recorded_at=at, recorded_by=by,
    )  # fmt: skip
    kept = [line for line in lines if line.carries_cost]
    shares = share_by_value(cost, [line.value for line in kept])
    by_component = {line.component.pk: share for line, share in zip(kept, shares, strict=True)}
    # Shelves are locked by rising part, so that two deliveries never wait for each other.
    for line in sorted(lines, key=lambda line: line.part.pk if line.part else 0):
        _settle(donor, line, by_component.get(line.component.pk, Decimal(0)))
    return donor


@transaction.atomic
def take_off_donor(*, piece: DonorComponent, part: Part, bin: Bin, on: date, by, at) -> StockMove:
    """Put a piece onto the shelf that was left on the donor, or lay in a bin without a number."""
    piece = _held(piece, on, at)
    move = _onto_shelf(piece.donor, piece.component, part, bin, piece.cost, on, by, at)
    _mark(piece, DonorComponent.State.TAKEN, on, by, at, part=part, bin=bin, move=move)
    return move


@transaction.atomic
def scrap_piece(*, piece: DonorComponent, note: str, on: date, by, at) -> DonorComponent:
    """Throw away a piece that is still on the donor or has no part number, and say why.

    What it carried of the donor's cost never comes onto the shelf.
    """
    note = " ".join(note.split())
    if not note:
        raise StockError(_("Say why it is scrapped."), "note")
    piece = _held(piece, on, at)
    return _mark(piece, DonorComponent.State.SCRAPPED, on, by, at, note=note)


def _require_sense(unit: Unit, lines: Sequence[StripLine], cost: Decimal) -> None:
    if not 0 <= cost < MOST_COST:
        raise StripError(_("A machine costs nothing or more. Check the figure."), "cost")
    if len({line.component.pk for line in lines}) != len(lines):
        raise StripError(_("A component stands on the list twice."))
    rows = KindComponent.objects.filter(kind=unit.model.kind_id)
    known = set(rows.values_list("component", flat=True))
    for row, line in enumerate(lines):
        _require_line(line, known, row)
    if cost and not any(line.carries_cost for line in lines):
        raise StripError(
            _(
                "Nothing that is kept can carry the machine’s cost. Name the part of a piece, or "
                "leave one on the machine; a machine without a good piece is scrapped whole."
            )
        )


def _require_line(line: StripLine, known: set[str], row: int) -> None:
    if line.component.pk not in known:
        sentence = _("A machine of this kind has no %(component)s.")
        raise StripError(sentence % {"component": line.component.name}, None, row)
    if line.fate == TAKE and not line.bin_name.strip():
        raise StripError(_("Say in which bin it lies."), "bin", row)
    if line.value < 0:
        raise StripError(_("A piece is worth nothing or more."), "value", row)
    if line.value and not line.carries_cost:
        raise StripError(
            _(
                "Only a piece with a part number, or one left on the machine, can carry cost. "
                "Name the part, or empty its value."
            ),
            "value",
            row,
        )


def _settle(donor: Donor, line: StripLine, share: Decimal) -> DonorComponent:
    on, by, at = donor.stripped_on, donor.recorded_by, donor.recorded_at
    piece = DonorComponent(
        donor=donor, component=line.component, grade=line.grade, part=line.part, cost=share,
        state=DonorComponent.State.HELD,
    )  # fmt: skip
    if line.fate == TAKE:
        piece.bin = find_or_add_bin(name=line.bin_name)
        if line.part:
            piece.state = DonorComponent.State.TAKEN
            piece.move = _onto_shelf(donor, line.component, line.part, piece.bin, share, on, by, at)
    elif line.fate == SCRAP:
        piece.state = DonorComponent.State.SCRAPPED
    if piece.state != DonorComponent.State.HELD:
        piece.settled_on, piece.settled_at, piece.settled_by = on, at, by
    piece.save(force_insert=True)
    return piece


def _onto_shelf(donor, component, part, bin, cost, on, by, at) -> StockMove:
    serial = donor.unit.serial or _("no serial number")
    note = _("%(component)s off %(serial)s") % {"component": component.name, "serial": serial}
    return receive_stock(
        part=part, bin=bin, quantity=Decimal(1), unit_cost=cost, reason=StockMove.Reason.DONOR,
        note=note[:200], on=on, document=donor.document, by=by, at=at,
    )  # fmt: skip


def _held(piece: DonorComponent, on: date, at) -> DonorComponent:
    """The piece, locked, as it is now."""
    locked = DonorComponent.objects.select_for_update(of=("self",)).select_related(
        "donor__unit", "component"
    )
    piece = locked.get(pk=piece.pk)
    if piece.state != DonorComponent.State.HELD:
        raise StockError(
            _("This piece was settled on %(day)s: %(state)s.")
            % {"day": written(piece.settled_on), "state": piece.get_state_display()}
        )
    require_come(on, at)
    if on < piece.donor.stripped_on:
        raise StockError(
            _("The machine was taken apart on %(day)s; nothing came off it before.")
            % {"day": written(piece.donor.stripped_on)},
            "on",
        )
    require_open(on)
    return piece


def _mark(piece: DonorComponent, state: str, on: date, by, at, **more) -> DonorComponent:
    settled = {"state": state, "settled_on": on, "settled_at": at, "settled_by": by} | more
    for name, value in settled.items():
        setattr(piece, name, value)
    piece.save(update_fields=list(settled))
    return piece
