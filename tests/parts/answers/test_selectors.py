from datetime import timedelta

import pytest

from parts.answers.models import FreshnessRule
from parts.answers.selectors import support_of
from parts.answers.services import withdraw_answer
from tests.factories.parts import AnswerFactory
from tests.factories.units import MORNING, TODAY, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def rules():
    for channel in FreshnessRule.Channel.values:
        FreshnessRule.objects.create(channel=channel, days=180, back_order_days=30)


def test_every_model_asked_for_gets_its_support(rules):
    asked, never = AnswerFactory(status="limited").model, MachineModelFactory()
    found = support_of([asked, never], TODAY)
    assert {pk: one.status for pk, one in found.items()} == {
        asked.pk: "limited",
        never.pk: "not-asked",
    }


def test_an_answer_about_a_name_merged_later_counts_for_the_model(rules):
    current = MachineModelFactory()
    merged = AnswerFactory(model__merged_into=current, status="ended").model
    found = support_of([current, merged], TODAY)
    assert {one.status for one in found.values()} == {"ended"}


def test_a_withdrawn_answer_counts_no_longer_but_did_before(rules):
    answer = AnswerFactory()
    later = MORNING + timedelta(hours=2)
    withdraw_answer(answer=answer, reason="wrong", by=PersonFactory(), at=later)
    assert support_of([answer.model], TODAY)[answer.model_id].status == "not-asked"
    before = support_of([answer.model], TODAY, known_at=MORNING)
    assert before[answer.model_id].status == "supported"


def test_an_answer_whose_rule_nobody_set_is_fresh_on_its_own_day_only():
    answer = AnswerFactory()
    assert support_of([answer.model], TODAY)[answer.model_id].fresh
    assert not support_of([answer.model], TODAY + timedelta(days=1))[answer.model_id].fresh


def test_support_needs_as_many_queries_for_many_models_as_for_one(rules, django_assert_num_queries):
    models = [AnswerFactory().model for _ in range(12)]
    with django_assert_num_queries(3):
        support_of(models[:1], TODAY)
    with django_assert_num_queries(3):
        support_of(models, TODAY)
