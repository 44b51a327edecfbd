from datetime import date, timedelta
from pathlib import Path

import pytest
from django.db import IntegrityError, transaction

from parts.answers.models import Answer, FreshnessRule
from parts.answers.services import (
    AnswerError,
    load_reference,
    record_answer,
    withdraw_answer,
)
from tests.factories.parts import AnswerFactory
from tests.factories.units import MORNING, TODAY, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db
REFERENCE = Path(__file__).resolve().parents[3] / "fixtures" / "reference"
TOMORROW = TODAY + timedelta(days=1)


def record(**changes):
    said = {
        "status": "supported",
        "given_on": TODAY,
        "given_by": "Dana, parts desk",
        "channel": "phone",
        "by": PersonFactory(),
        "at": MORNING,
    } | changes
    said.setdefault("model", None)
    said["model"] = said["model"] or MachineModelFactory()
    return record_answer(**said)


def test_an_answer_keeps_who_said_it_how_when_and_who_wrote_it_down():
    person = PersonFactory()
    answer = record(by=person, warranty="no", note=" asked for the board ")
    answer.refresh_from_db()
    assert (answer.given_by, answer.channel, answer.given_on) == (
        "Dana, parts desk",
        "phone",
        TODAY,
    )
    assert (answer.recorded_by, answer.recorded_at) == (person, MORNING)
    assert (answer.warranty, answer.note) == ("no", "asked for the board")


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"given_on": TOMORROW}, "given_on"),
        ({"given_by": "   "}, "given_by"),
        ({"until": TOMORROW}, "until"),
        ({"status": "back-ordered", "until": TODAY - timedelta(days=1)}, "until"),
        ({"effective_on": TOMORROW}, "effective_on"),
        ({"channel": "notice", "effective_on": TODAY - timedelta(days=1)}, "effective_on"),
    ],
)
def test_an_answer_that_makes_no_sense_is_refused_at_its_field(changes, field):
    with pytest.raises(AnswerError) as refusal:
        record(**changes)
    assert refusal.value.field == field
    assert not Answer.objects.exists()


def test_the_refusal_of_tomorrow_names_the_day():
    with pytest.raises(AnswerError, match="6 Oct 2026 has not come yet"):
        record(given_on=TOMORROW)


def test_the_same_words_said_twice_are_one_answer():
    model, person = MachineModelFactory(), PersonFactory()
    first = record(model=model, by=person)
    assert record(model=model, by=person) == first
    assert Answer.objects.count() == 1


def test_the_same_words_count_again_after_the_first_were_withdrawn():
    first = record()
    withdraw_answer(answer=first, reason="wrong model", by=first.recorded_by, at=MORNING)
    assert record(model=first.model) != first


def test_an_answer_about_a_merged_name_belongs_to_the_model_it_was_merged_into():
    current = MachineModelFactory()
    assert record(model=MachineModelFactory(merged_into=current)).model == current


def test_an_answer_is_never_overwritten():
    answer = AnswerFactory()
    answer.status = "ended"
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        answer.save()


def test_a_withdrawal_needs_its_reason():
    answer = AnswerFactory()
    with pytest.raises(AnswerError, match="Say why"):
        withdraw_answer(answer=answer, reason=" ", by=answer.recorded_by, at=MORNING)


def test_a_second_withdrawal_says_who_was_first_and_why():
    answer = AnswerFactory()
    by = PersonFactory(first_name="Ada", last_name="Bench")
    withdraw_answer(answer=answer, reason="other model meant", by=by, at=MORNING)
    with pytest.raises(AnswerError, match=r"Ada Bench .* 5 Oct 2026: other model meant"):
        withdraw_answer(answer=answer, reason="again", by=by, at=MORNING)


def test_the_reference_gives_each_channel_its_days():
    load_reference(REFERENCE)
    rules = FreshnessRule.objects.order_by("channel").values_list(
        "channel", "days", "back_order_days"
    )
    assert list(rules) == [
        ("listing", 60, 30),
        ("mail", 180, 30),
        ("notice", 180, 30),
        ("order", 180, 30),
        ("phone", 180, 30),
        ("return", 180, 30),
    ]


def test_the_reference_loaded_again_leaves_what_the_shop_edited():
    load_reference(REFERENCE)
    FreshnessRule.objects.filter(channel="phone").update(days=90)
    load_reference(REFERENCE)
    assert FreshnessRule.objects.get(channel="phone").days == 90


def test_a_reference_with_an_unknown_channel_is_refused_by_its_name(tmp_path):
    (tmp_path / "freshness.toml").write_text("[pigeon]\ndays = 3\n")
    with pytest.raises(AnswerError, match=r"freshness\.toml: “pigeon”"):
        load_reference(tmp_path)


def test_a_past_day_may_be_written_down_today():
    assert record(given_on=date(2026, 2, 1)).given_on == date(2026, 2, 1)
