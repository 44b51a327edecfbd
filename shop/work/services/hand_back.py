"""A customer's machine leaves: billed, paid if he pays now, and signed for."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.floor.models import Stay
from shop.floor.services import end_stay
from shop.till.models import Invoice, LineClass
from shop.till.services import Line, issue_invoice, take_payment
from shop.work.domain.billing import charges, charges_unrepaired
from shop.work.domain.states import HAND_BACK
from shop.work.models import HandBack, RecallTold, WorkOrder
from shop.work.selectors.left_standing import storage_of
from shop.work.services.agreed import require_fee_agreed
from shop.work.services.bench import Bench
from shop.work.services.errors import JobError
from shop.work.services.recalls import tell_recalls
from shop.work.services.steps import lock_job, require_way, take_step
from units.show.words import money

CHECKED = {"taken-by", "things", "notice-signed", "recalls-told"}


@dataclass(frozen=True)
class Money:
    """What is paid at the counter; without an amount, the whole invoice."""

    method: str
    key: UUID
    amount: Decimal | None = None
    reference: str = ""


@dataclass(frozen=True)
class Leaving:
    """Who takes the machine and what goes along. ``returned`` holds things of ``CameAlong``;
    ``kept_why`` says why one that came does not go. ``fee`` is before tax; ``fee_agreed``
    says who agreed to one beyond the quote, or why nobody was asked. ``storage_waived`` says why
    days of storage are not charged."""

    taken_by: str
    returned: Collection[str] = ()
    kept_why: str = ""
    notice_signed: bool = False
    fee: Decimal = Decimal(0)
    fee_agreed: str = ""
    recalls_told: bool = False
    storage_waived: str = ""
    money: Money | None = None


@transaction.atomic
def hand_back(*, job: WorkOrder, leaving: Leaving, by: AbstractBaseUser, at: datetime) -> HandBack:
    """Hand a closed job's machine back, with its invoice if there is anything to charge.

    Raises JobError; saying who handed it back and when, if somebody has. TillError, FloorError
    and DayClosedError come through.
    """
    job = lock_job(job)
    require_way(job, HAND_BACK, "", by)
    _require_complete(job, leaving)
    tell_recalls(
        job=job,
        how=RecallTold.How.COUNTER if leaving.recalls_told else "",
        told_to=leaving.taken_by,
        by=by,
        at=at,
    )
    on = timezone.localdate(at)
    lines = lines_to_bill(job, on, leaving.fee)
    if not leaving.storage_waived.strip():
        lines += storage_lines(job, on)
    invoice = None
    if lines:
        invoice = issue_invoice(
            customer=job.payer_or_owner,
            lines=lines,
            document=job.number,
            key=f"job {job.number}",
            on=on,
            by=by,
            at=at,
        )
    _take_money(invoice, leaving.money, on, by, at)
    job.came_along.filter(thing__in=leaving.returned).update(returned=True)
    if job.stay_id:
        end_stay(stay=job.stay, left=Stay.Left.RETURNED, on=on, document=job.number, by=by)
    take_step(job=job, deed=HAND_BACK, checked=CHECKED, note=_note(leaving), by=by, at=at)
    return HandBack.objects.create(
        job=job, taken_by=leaving.taken_by, invoice=invoice, handed_at=at, handed_by=by
    )


def lines_to_bill(job: WorkOrder, on: date, fee: Decimal = Decimal(0)) -> list[Line]:
    """The invoice's lines, by the one rule of :mod:`shop.work.domain.billing`."""
    if job.purpose == WorkOrder.Purpose.WARRANTY:
        return []  # free: what it costs us is ours
    bench = Bench(job)
    if job.outcome == WorkOrder.Outcome.REPAIRED:
        return charges(bench.work(on))
    return charges_unrepaired(bench.used, fee, _("Diagnosis"))


def storage_lines(job: WorkOrder, on: date) -> list[Line]:
    """Storage as the first notice told it; charged even where the repair itself is free."""
    stood = storage_of(job, on)
    if not stood.charge:
        return []
    per_day = stood.notices[0].per_day
    return [Line(LineClass.FEE, _("Storage, by the day"), Decimal(stood.days), per_day)]


def _note(leaving: Leaving) -> str:
    said = [leaving.kept_why.strip()]
    if leaving.fee and leaving.fee_agreed.strip():
        words = {"fee": money(leaving.fee), "who": leaving.fee_agreed.strip()}
        said.append(_("fee of %(fee)s: %(who)s") % words)
    if why := leaving.storage_waived.strip():
        said.append(_("storage not charged: %(why)s") % {"why": why})
    return "; ".join(filter(None, said))


def _require_complete(job: WorkOrder, leaving: Leaving) -> None:
    if not leaving.taken_by.strip():
        raise JobError(_("Say who takes the machine."))
    kept = [
        thing.get_thing_display()
        for thing in job.came_along.all()
        if thing.thing not in leaving.returned
    ]
    if kept and not leaving.kept_why.strip():
        raise JobError(
            _("This came along and does not go back: %(things)s. Tick it, or say why.")
            % {"things": ", ".join(kept)}
        )
    if hasattr(job, "notice") and not leaving.notice_signed:
        raise JobError(_("Print the notice and have it signed before the machine leaves."))
    if leaving.fee and job.purpose == WorkOrder.Purpose.WARRANTY:
        raise JobError(_("Under our own warranty nothing is charged; leave the fee empty."))
    if leaving.fee and job.outcome == WorkOrder.Outcome.REPAIRED:
        raise JobError(_("A repaired machine is charged as agreed; leave the fee empty."))
    require_fee_agreed(job, leaving.fee, leaving.fee_agreed)


def _take_money(invoice: Invoice | None, money: Money | None, on, by, at) -> None:
    if money is None:
        return
    if invoice is None:
        raise JobError(_("There is nothing to pay. Leave the payment empty."))
    take_payment(
        invoice=invoice,
        method=money.method,
        amount=money.amount if money.amount is not None else invoice.total,
        on=on,
        reference=money.reference,
        key=money.key,
        by=by,
        at=at,
    )
