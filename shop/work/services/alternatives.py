"""An estimate may let its payer choose: each way has a letter, a name and its lines."""

from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from shop.work.models import Alternative, Estimate, WorkOrder
from shop.work.services.errors import JobError
from shop.work.services.estimate_lines import lock_draft

LETTERS = "ABCD"
Sort = Alternative.Sort


@transaction.atomic
def add_alternative(
    *, estimate: Estimate, name: str, sort: str = Sort.WORK, we_pay: Decimal | None = None
) -> Alternative:
    """Add a way to choose to a draft. ``we_pay`` is what we give for a machine we take as a donor.

    Raises JobError.
    """
    estimate = lock_draft(estimate)
    if not name.strip():
        raise JobError(_("Give the alternative a name that the customer understands."))
    if sort == Sort.DONOR and we_pay is None:
        raise JobError(_("Say what we would pay for the machine; 0 if nothing."))
    if estimate.job.purpose == WorkOrder.Purpose.WARRANTY:
        raise JobError(_("Under our own warranty there is nothing to choose: we put it right."))
    if sort == Sort.DONOR and estimate.job.purpose != WorkOrder.Purpose.CUSTOMER:
        raise JobError(_("Only a customer can sell us his machine."))
    letter = _next_letter(estimate)
    return Alternative.objects.create(
        estimate=estimate,
        letter=letter,
        name=name.strip(),
        sort=sort,
        we_pay=we_pay if sort == Sort.DONOR else None,
    )


def _next_letter(estimate: Estimate) -> str:
    taken = set(estimate.alternatives.values_list("letter", flat=True))
    free = [letter for letter in LETTERS if letter not in taken]
    if not free:
        raise JobError(_("Four alternatives are enough to choose from. Drop one first."))
    return free[0]


@transaction.atomic
def drop_alternative(*, alternative: Alternative) -> None:
    """Take a way to choose out of a draft; lines that stand only in it must go first."""
    estimate = lock_draft(alternative.estimate)
    found = estimate.alternatives.filter(pk=alternative.pk).first()
    if found is None:
        raise JobError(_("Somebody dropped this alternative meanwhile. Nothing was changed."))
    lines = [line for line in estimate.lines.all() if found.letter in line.only_in]
    if alone := [line.description for line in lines if line.only_in == found.letter]:
        raise JobError(
            _("These lines stand only in it; change or drop them first: %(lines)s.")
            % {"lines": "; ".join(alone)}
        )
    for line in lines:
        line.only_in = line.only_in.replace(found.letter, "")
        line.save(update_fields=["only_in"])
    found.delete()


def require_choice(estimate: Estimate, alternative: Alternative | None) -> None:
    """Refuse a yes that leaves open what was chosen, or names what is not to be chosen."""
    letters = {one.pk: one.letter for one in estimate.alternatives.all()}
    if letters and alternative is None:
        raise JobError(_("Say which of the alternatives was chosen."))
    if alternative is not None and alternative.pk not in letters:
        raise JobError(_("This alternative belongs to another version."))
