from datetime import timedelta

import pytest

from parts.answers.domain.odds import learn
from parts.answers.models import FreshnessRule
from parts.answers.selectors import learned_odds, rules_and_mark
from parts.answers.services import withdraw_answer
from tests.factories.parts import AnswerFactory, PartFactory
from tests.factories.units import MORNING, TODAY, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db
NOTHING = learn([], {})


def ago(days):
    return TODAY - timedelta(days=days)


def learned(on=TODAY, known_at=None):
    _rules, mark = rules_and_mark(TODAY)
    return learned_odds(mark, on, known_at)


@pytest.fixture
def rules():
    FreshnessRule.objects.create(channel="phone", days=180, back_order_days=30)


def successive(*pairs, **more):
    """Answers about one model: (days ago, status)."""
    model = MachineModelFactory()
    return [
        AnswerFactory(model=model, given_on=ago(days), status=status, **more)
        for days, status in pairs
    ]


def test_without_answers_the_stated_priors_stand():
    assert learned() == NOTHING


def test_answers_that_agree_make_a_yes_last_longer():
    successive((1200, "supported"), (800, "limited"), (20, "supported"))
    assert learned().holds("supported", "phone", 300) > NOTHING.holds("supported", "phone", 300)


def test_an_answer_that_changed_makes_a_yes_last_shorter():
    for _model in range(4):
        successive((200, "supported"), (20, "ended"))
    assert learned().holds("supported", "phone", 300) < NOTHING.holds("supported", "phone", 300)


def test_answers_about_two_models_are_no_sequel():
    AnswerFactory(given_on=ago(200))
    AnswerFactory(given_on=ago(20), status="ended")
    assert learned().rates == NOTHING.rates


def test_answers_by_two_routes_are_no_sequel():
    part = PartFactory()
    AnswerFactory(model=None, part=part, given_on=ago(200))
    AnswerFactory(
        model=None, part=part, route="supplier", party="Spares", status="ended", given_on=ago(20)
    )
    assert learned().rates == NOTHING.rates


def test_silence_between_two_answers_is_passed_over():
    successive((900, "supported"), (400, "no-answer"), (20, "supported"))
    assert learned().holds("supported", "phone", 300) > NOTHING.holds("supported", "phone", 300)


def test_a_withdrawn_answer_teaches_no_longer_but_did_before():
    _first, second = successive((200, "supported"), (20, "ended"))
    taught = learned().rates
    withdraw_answer(answer=second, reason="wrong", by=PersonFactory(), at=MORNING)
    assert learned().rates == NOTHING.rates
    assert learned(known_at=MORNING - timedelta(seconds=1)).rates != taught


def test_a_past_day_is_judged_by_what_had_been_given_by_then():
    successive((200, "supported"), (20, "ended"))
    assert learned(on=ago(100)).rates == NOTHING.rates


def test_a_makers_newest_words_count_among_its_asked():
    first, second = successive((200, "supported"), (20, "ended"))
    model = first.model
    assert second.model == model
    other = MachineModelFactory(maker=model.maker, grade=model.grade)
    AnswerFactory(model=other)
    [asked] = learned().asked.values()
    assert (asked.yes, asked.asked) == (1, 2)


def test_what_was_learnt_is_kept_until_an_answer_is_added(rules, django_assert_num_queries):
    successive((200, "supported"), (20, "supported"))
    learned()
    with django_assert_num_queries(1):
        learned()
    successive((200, "supported"), (20, "supported"))
    with django_assert_num_queries(2):
        learned()
