"""Offers to rebuild or exchange, and what became of them."""

from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from parts.answers.models import Answer
from parts.answers.services import record_answer
from parts.buying.models import Exchange, ExchangeOffer, ExchangeStep
from parts.buying.services.refusing import BuyingError, once, require_come
from parts.buying.services.suppliers import add_supplier
from units.rows.services import next_number
from units.show.words import day as written


@transaction.atomic
def add_offer(
    *, supplier: str, core_charge: Decimal, core_days: int | None, by, at, **said
) -> ExchangeOffer:
    """Write down what a workshop asks to rebuild or exchange something.

    ``said`` is what :func:`parts.answers.services.record_answer` takes: ``part``, or ``model`` with
    ``component``; ``cost``, ``lead_days``, ``given_on``, ``given_by``, ``channel``, ``note``.
    The same words said twice on one day are one offer.
    """
    if said.get("model") and not said.get("component"):
        raise BuyingError(_("Say which component they exchange."), "component")
    if core_charge < 0:
        raise BuyingError(_("A charge is not less than nothing."), "core_charge")
    workshop = add_supplier(name=supplier)
    answer = record_answer(
        route=Answer.Route.REBUILD,
        party=workshop.name,
        status=Answer.Status.SUPPORTED,
        by=by,
        at=at,
        **said,
    )
    terms = {"core_charge": core_charge, "core_days": core_days}
    offer, _was_new = ExchangeOffer.objects.get_or_create(
        answer=answer, defaults={"supplier": workshop, **terms}
    )
    if (offer.core_charge, offer.core_days) != (core_charge, core_days):
        raise BuyingError(
            _("They said this already today, with another charge for the old one. Withdraw that."),
            "core_charge",
        )
    return offer


@transaction.atomic
def order_exchange(*, offer: ExchangeOffer, document: str, on: date, key, by, at) -> Exchange:
    """Order an exchange on the terms of the offer. The same ``key`` returns the first one."""

    def write():
        require_come(on, at, "ordered_on")
        if on < offer.answer.given_on:
            raise BuyingError(
                _("They offered it on %(day)s: order it then or later.")
                % {"day": written(offer.answer.given_on)},
                "ordered_on",
            )
        if hasattr(offer.answer, "withdrawal"):
            raise BuyingError(_("This offer was withdrawn. Ask the workshop again."))
        return Exchange.objects.create(
            number=f"X{next_number('exchange'):05}",
            key=key,
            offer=offer,
            document=document.strip(),
            core_charge=offer.core_charge,
            core_days=offer.core_days,
            ordered_on=on,
            recorded_at=at,
            recorded_by=by,
        )

    return once(Exchange, key, write)


@transaction.atomic
def step_exchange(*, exchange: Exchange, step: str, on: date, by, at) -> ExchangeStep:
    """Write down that the other one came, or that the old one was sent. Said again, it stands."""
    require_come(on, at, "done_on")
    if on < exchange.ordered_on:
        raise BuyingError(
            _("It was ordered on %(day)s: nothing happened before.")
            % {"day": written(exchange.ordered_on)},
            "done_on",
        )
    row, _was_new = ExchangeStep.objects.get_or_create(
        exchange=exchange,
        step=step,
        defaults={"done_on": on, "recorded_at": at, "recorded_by": by},
    )
    if row.done_on != on:
        raise BuyingError(
            _("This was written down already, for %(day)s.") % {"day": written(row.done_on)},
            "done_on",
        )
    return row
