"""An estimate is drafted, offered and answered; each version is fixed once it is offered."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.people.seats import OWNER, seats_of
from shop.till.models import LineClass
from shop.work.domain.billing import beyond
from shop.work.domain.proposals import split_pairs
from shop.work.domain.states import ANSWERED, BOUGHT, NO, NO_BUT, OFFER, OFFERED, SELL_TO_US, YES
from shop.work.models import Alternative, Approval, Estimate, EstimateLine, WorkOrder
from shop.work.selectors.taking import agreed_of
from shop.work.services.alternatives import require_choice
from shop.work.services.bench import Bench
from shop.work.services.errors import JobError
from shop.work.services.estimate_lines import net_of_line
from shop.work.services.proposing import proposed_lines
from shop.work.services.recalls import tell_recalls
from shop.work.services.steps import (
    lock_job,
    name_of,
    require_deed,
    require_given_up,
    require_way,
    take_step,
)
from shop.work.services.taking_over import into_our_stock
from shop.work.services.warranty import require_covered
from units.catalogue.models import Component
from units.show.words import moment, money

Channel = Approval.Channel
PRICED = {LineClass.PART, LineClass.LABOUR}


@transaction.atomic
def make_estimate(*, job: WorkOrder, by: AbstractBaseUser, at: datetime) -> Estimate:
    """Draft the next version, or go on with the one that is not offered yet.

    The first version holds what the findings propose. A later one holds the lines of the last
    and what has been found since, so that nothing typed is lost.
    """
    job = lock_job(job)
    require_deed(job, OFFER)
    last = job.estimates.order_by("-version").first()
    if last and last.offered_at is None:
        return last
    lines = [_copied(line) for line in last.lines.all()] if last else []
    there = {line.component_id for line in lines}
    proposed = proposed_lines(job, timezone.localdate(at))
    lines += [line for line in proposed if line.component_id not in there]
    lines += _used_beyond(job, lines)
    version = last.version + 1 if last else 1
    estimate = Estimate.objects.create(job=job, version=version, made_at=at, made_by=by)
    for position, line in enumerate(lines, start=1):
        line.estimate, line.position = estimate, position
        line.net = net_of_line(line)
    Alternative.objects.bulk_create(_copies(last.alternatives.all(), estimate) if last else [])
    EstimateLine.objects.bulk_create(lines)
    return estimate


def _used_beyond(job: WorkOrder, lines: list[EstimateLine]) -> list[EstimateLine]:
    """Parts that were used beyond the lines: the payer is to be asked about them too."""
    # Lines that are not kept yet have no number; a use for no line must not be taken for theirs.
    drafted = [replace(agreed_of(line), line=-nth) for nth, line in enumerate(lines, start=1)]
    return [
        EstimateLine(
            line_class=LineClass.PART,
            description=one.description[:200],
            part_id=one.part,
            component_id=one.component,
            quantity=one.quantity,
            unit_price=one.unit_price,
            reason=_("Used already; it was not on the estimate."),
        )
        for one in beyond(drafted, Bench(job).used)
    ]


def _copies(alternatives, estimate: Estimate) -> list[Alternative]:
    return [
        Alternative(
            estimate=estimate, letter=one.letter, name=one.name, sort=one.sort, we_pay=one.we_pay
        )
        for one in alternatives
    ]


def _copied(line: EstimateLine) -> EstimateLine:
    line.pk = None
    line._state.adding = True
    return line


@transaction.atomic
def offer_estimate(*, estimate: Estimate, by: AbstractBaseUser, at: datetime) -> Estimate:
    """Fix a draft and put it to whoever pays. The owner's own offer for our stock is its yes."""
    job = lock_job(estimate.job)
    estimate = Estimate.objects.select_for_update().get(pk=estimate.pk)
    if estimate.offered_at:
        raise JobError(
            _("Version %(version)d was offered by %(person)s, %(moment)s.")
            % {
                "version": estimate.version,
                "person": name_of(estimate.offered_by),
                "moment": moment(estimate.offered_at),
            }
        )
    require_way(job, OFFER, "", by)
    _require_offerable(job, estimate)
    require_covered(job, estimate, by)
    estimate.offered_at, estimate.offered_by = at, by
    estimate.save(update_fields=["offered_at", "offered_by"])
    note = _("version %(version)d") % {"version": estimate.version}
    job = take_step(job=job, deed=OFFER, checked={*OFFERED, "covered"}, note=note, by=by, at=at)
    channel = _own_yes(job, by)
    if channel and not estimate.alternatives.exists():
        answer_estimate(
            estimate=estimate, yes=True, given_by=name_of(by), channel=channel, by=by, at=at
        )
    return estimate


def _own_yes(job: WorkOrder, by: AbstractBaseUser) -> str:
    """How an offer is a yes at once: under our own warranty, or the owner's for our stock."""
    if job.purpose == WorkOrder.Purpose.WARRANTY:
        return Channel.WARRANTY
    return Channel.OWN if job.purpose == WorkOrder.Purpose.OWN and OWNER in seats_of(by) else ""


def _require_offerable(job: WorkOrder, estimate: Estimate) -> None:
    """Each way to choose must be whole by itself."""
    lines = list(estimate.lines.all())
    alternatives = list(estimate.alternatives.all())
    if len(alternatives) == 1:
        raise JobError(_("One alternative is no choice. Add another, or drop it."))
    letters = {one.letter for one in alternatives}
    if lost := [line.description for line in lines if set(line.only_in) - letters]:
        raise JobError(
            _("These lines stand in no alternative: %(lines)s.") % {"lines": "; ".join(lost)}
        )
    for one in alternatives or [None]:
        if one is None or one.sort == Alternative.Sort.WORK:
            _require_whole(job, [line for line in lines if line.stands_in(one)])


def _require_whole(job: WorkOrder, lines: list[EstimateLine]) -> None:
    """Refuse an offer without lines, without a price, or with half of a pair."""
    if not lines:
        raise JobError(_("This estimate has no lines. Add what is to be done first."))
    unpriced = [x.description for x in lines if x.line_class in PRICED and not x.unit_price]
    if unpriced:
        raise JobError(
            _("Give a price first, or drop the line: %(lines)s.") % {"lines": "; ".join(unpriced)}
        )
    components = {line.component_id for line in lines}
    with_parts = {line.component_id for line in lines if line.line_class == LineClass.PART}
    for pair in split_pairs(Bench(job).verdicts, components, with_parts):
        names = Component.objects.filter(slug__in=pair).values_list("name", flat=True)
        raise JobError(
            _("These are put right together or not at all: %(names)s.")
            % {"names": ", ".join(_(name) for name in names)}
        )


@transaction.atomic
def answer_estimate(
    *,
    estimate: Estimate,
    yes: bool,
    given_by: str,
    channel: str,
    up_to: Decimal | None = None,
    alternative: Alternative | None = None,
    recalls_told: str = "",
    by: AbstractBaseUser,
    at: datetime,
) -> Approval:
    """Write down the payer's yes or no to the newest version, and which alternative he chose.

    ``up_to`` is before tax; a yes without it goes as far as the estimate. An earlier yes stands
    when a later version gets a no. A yes to what we pay for the machine makes it ours, once its
    owner was told of its open recalls (``recalls_told`` says how).
    """
    job = lock_job(estimate.job)
    _require_unanswered(job, estimate)
    if channel == Channel.LIMIT and not yes:
        raise JobError(_("A limit given on arrival can only stand for a yes."))
    if yes:
        require_choice(estimate, alternative)
        up_to = _agreed_sum(job, net_of_estimate(estimate, alternative), channel, up_to)
    earlier = Bench(job).approved
    approval = Approval.objects.create(
        estimate=estimate,
        yes=yes,
        alternative=alternative if yes else None,
        given_by=given_by,
        channel=channel,
        up_to=up_to if yes else None,
        given_at=at,
        recorded_by=by,
    )
    if approval.alternative and approval.alternative.sort == Alternative.Sort.DONOR:
        tell_recalls(job=job, how=recalls_told, by=by, at=at)
        _take_as_donor(job, approval, by, at)
        return approval
    deed, note = _answer_of(estimate, yes, earlier)
    take_step(job=job, deed=deed, checked=ANSWERED, note=note, by=by, at=at)
    return approval


def _take_as_donor(job: WorkOrder, approval: Approval, by: AbstractBaseUser, at) -> None:
    """The owner would rather sell it to us: the machine is ours at once, and the job over."""
    require_way(job, SELL_TO_US, BOUGHT, by)
    if approval.channel == Channel.LIMIT:
        raise JobError(_("A limit given on arrival sells no machine: ask its owner."))
    require_given_up(job)
    price = approval.alternative.we_pay
    into_our_stock(job=job, price=price, by=by, at=at)
    take_step(
        job=job,
        deed=SELL_TO_US,
        outcome=BOUGHT,
        checked={*ANSWERED, "for-sale", "asked", "parts-back", "clocks-stopped", "recalls-told"},
        note=_("bought for %(price)s") % {"price": money(price)},
        by=by,
        at=at,
    )


def _answer_of(estimate: Estimate, yes: bool, earlier: Estimate | None) -> tuple[str, str]:
    """The deed that an answer is, and what its step says."""
    words = {"new": estimate.version, "old": earlier and earlier.version}
    if yes:
        return YES, ""
    if earlier is None:
        return NO, _("no to version %(new)d") % words
    return NO_BUT, _("no to version %(new)d; the yes to version %(old)d stands") % words


def _require_unanswered(job: WorkOrder, estimate: Estimate) -> None:
    answer = Approval.objects.filter(estimate=estimate).select_related("recorded_by").first()
    if answer:
        said = _("a yes") if answer.yes else _("a no")
        raise JobError(
            _("%(person)s already wrote down %(answer)s of %(who)s, %(moment)s.")
            % {
                "person": name_of(answer.recorded_by),
                "answer": said,
                "who": answer.given_by,
                "moment": moment(answer.given_at),
            }
        )
    if estimate.offered_at is None:
        raise JobError(_("This version was not offered yet."))
    newest = job.estimates.filter(offered_at__isnull=False).aggregate(last=Max("version"))["last"]
    if newest != estimate.version:
        raise JobError(
            _("Version %(version)d has taken the place of this one.") % {"version": newest}
        )
    require_deed(job, YES, NO)


def net_of_estimate(estimate: Estimate, alternative: Alternative | None = None) -> Decimal:
    """Before tax, of one alternative where there are several."""
    chosen = (line.net for line in estimate.lines.all() if line.stands_in(alternative))
    return sum(chosen, Decimal(0))


def _agreed_sum(job: WorkOrder, net: Decimal, channel: str, up_to: Decimal | None) -> Decimal:
    """How far a yes goes, before tax: as far as the estimate unless the payer said further."""
    if channel == Channel.LIMIT:
        _require_within(job.spend_limit, net)
        return net
    if up_to is not None and up_to < net:
        raise JobError(
            _("The estimate is %(net)s before tax. For a yes to less, offer a smaller one.")
            % {"net": money(net)}
        )
    return net if up_to is None else up_to


def _require_within(limit: Decimal | None, net: Decimal) -> None:
    if limit is None:
        raise JobError(_("No limit was given on arrival; the customer has to be asked."))
    if net > limit:
        raise JobError(
            _("The estimate is %(net)s, more than the %(limit)s given on arrival; ask.")
            % {"net": money(net), "limit": money(limit)}
        )
