from datetime import timedelta

import pytest

from parts.answers.services import withdraw_answer
from parts.buying.selectors import cores_to_send, exchanges
from tests.factories.parts import FitFactory, SisterFactory, SupersessionFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    MachineModelFactory,
    PersonFactory,
)
from tests.parts.buying.purchase import an_exchange, an_offer, step

pytestmark = pytest.mark.django_db


def test_an_offer_for_a_component_of_a_model_is_found_there():
    offer = an_offer()
    model = offer.answer.model
    assert exchanges([model]) == {model.pk: {offer.answer.component_id: [offer]}}


def test_an_offer_for_a_name_merged_into_the_model_holds_for_it():
    offer = an_offer()
    current = MachineModelFactory(kind=offer.answer.model.kind)
    type(current).objects.filter(pk=offer.answer.model_id).update(merged_into=current)
    assert exchanges([current])[current.pk] == {offer.answer.component_id: [offer]}


def test_an_offer_for_a_part_is_found_where_the_part_fits():
    fit, other = FitFactory(), MachineModelFactory()
    offer = an_offer(part=fit.part, model=None, component=None)
    found = exchanges([fit.model, other])
    assert found == {fit.model_id: {fit.part.component_id: [offer]}, other.pk: {}}


def test_an_offer_for_a_later_number_or_a_sisters_part_is_found_as_well():
    fit = FitFactory()
    later = SupersessionFactory(part=fit.part).replaced_by
    theirs = FitFactory(part__component=fit.part.component)
    SisterFactory(model=fit.model, other=theirs.model)
    offers = [
        an_offer(part=part, model=None, component=None, supplier=f"Workshop {place}")
        for place, part in enumerate([later, theirs.part])
    ]
    assert exchanges([fit.model])[fit.model_id] == {fit.part.component_id: offers[::-1]}


def test_components_may_be_narrowed():
    offer = an_offer()
    model, slug = offer.answer.model, offer.answer.component_id
    assert exchanges([model], ["fan"]) == {model.pk: {}}
    assert exchanges([model], [slug]) == {model.pk: {slug: [offer]}}


def test_a_withdrawn_answer_withdraws_the_offer():
    offer = an_offer()
    withdraw_answer(answer=offer.answer, reason="misheard", by=PersonFactory(), at=MORNING)
    assert exchanges([offer.answer.model]) == {offer.answer.model_id: {}}


def test_exchanges_need_no_query_for_each_model(django_assert_num_queries):
    models = [an_offer(supplier=f"Workshop {n}").answer.model for n in range(4)]
    for model in models:
        FitFactory(model=model)
    with django_assert_num_queries(5):
        assert len(exchanges(models)) == 4


def test_an_old_one_waits_from_the_day_the_other_came_until_it_is_sent():
    exchange = an_exchange(core_days=14)
    assert cores_to_send(TODAY) == []
    step(exchange, "came", TODAY)
    (core,) = cores_to_send(TODAY)
    assert (core.exchange, core.due_on, core.late) == (exchange, TODAY + timedelta(days=14), False)
    (late,) = cores_to_send(TODAY + timedelta(days=15))
    assert late.late
    step(exchange, "sent", TODAY)
    assert cores_to_send(TODAY) == []


def test_those_due_first_stand_first_and_those_without_a_day_last():
    exchanges = [an_exchange(core_days=days, supplier=f"W{days}") for days in (None, 30, 7)]
    for exchange in exchanges:
        step(exchange, "came", TODAY)
    assert [core.exchange.core_days for core in cores_to_send(TODAY)] == [7, 30, None]
