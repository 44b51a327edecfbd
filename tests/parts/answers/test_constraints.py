"""What the database refuses of answers, whoever writes them."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from parts.answers.models import Withdrawal
from tests.factories.parts import AnswerFactory, PartFactory, SupplierPriceFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
TOMORROW, YESTERDAY = TODAY + timedelta(days=1), TODAY - timedelta(days=1)


@pytest.mark.parametrize(
    ("said", "constraint"),
    [
        ({"given_by": ""}, "answer_has_its_speaker"),
        ({"until": TOMORROW}, "until_only_back_ordered"),
        ({"status": "back-ordered", "until": YESTERDAY}, "until_the_day_given_or_later"),
        ({"effective_on": TOMORROW}, "only_a_notice_holds_from_later"),
        ({"status": "ended", "effective_on": TOMORROW}, "only_a_notice_holds_from_later"),
        ({"channel": "notice", "effective_on": YESTERDAY}, "only_a_notice_holds_from_later"),
        ({"status": "superseded"}, "only_a_part_is_superseded"),
        ({"party": "Kestrow Supply"}, "party_named_unless_the_maker"),
        ({"route": "supplier"}, "party_named_unless_the_maker"),
        ({"model": None}, "answer_for_a_model_or_a_part"),
        ({"cost": -1}, "answered_cost_not_negative"),
    ],
)
def test_an_answer_that_says_too_little_or_too_much_is_refused(said, constraint):
    with pytest.raises(IntegrityError, match=constraint), transaction.atomic():
        AnswerFactory(**said)


@pytest.mark.parametrize(
    "said",
    [
        {"status": "back-ordered"},
        {"status": "back-ordered", "until": TODAY},
        {"status": "ended", "channel": "notice", "effective_on": TODAY},
        {"status": "ended", "channel": "notice", "effective_on": TOMORROW},
        {"route": "made", "party": "Ostramill belts"},
    ],
)
def test_what_the_trade_says_is_let_in(said):
    assert AnswerFactory(**said).pk


def test_a_part_is_not_replaced_by_itself_but_by_another():
    part = PartFactory()
    said = {"part": part, "model": None, "status": "superseded"}
    with pytest.raises(IntegrityError, match="not_replaced_by_itself"), transaction.atomic():
        AnswerFactory(**said, replaced_by=part)
    assert AnswerFactory(**said, replaced_by=PartFactory()).pk
    assert AnswerFactory(**said).pk
    with pytest.raises(IntegrityError, match="replaced_only"), transaction.atomic():
        SupplierPriceFactory(replaced_by=part)


def test_a_withdrawal_without_a_reason_is_refused():
    row = {"answer": AnswerFactory(), "recorded_at": MORNING, "recorded_by": PersonFactory()}
    with pytest.raises(IntegrityError, match="has_its_reason"), transaction.atomic():
        Withdrawal.objects.create(**row, reason="")
    assert Withdrawal.objects.create(**row, reason="another model was meant").pk
