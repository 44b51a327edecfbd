import pytest

from parts.fits.selectors import chain_of
from parts.fits.services import withdraw_supersession
from tests.factories.parts import PartFactory, SupersessionFactory
from tests.factories.units import MORNING, PersonFactory

pytestmark = pytest.mark.django_db


def test_a_chain_is_told_both_ways_from_the_oldest_to_the_newest():
    first = SupersessionFactory()
    second = SupersessionFactory(part=first.replaced_by)
    third = SupersessionFactory(part=second.replaced_by)
    SupersessionFactory()
    chain = chain_of(second.part)
    assert chain.earlier == [first.part]
    assert chain.later == [third.part, third.replaced_by]
    assert chain.now == [third.replaced_by]
    assert chain.links == [first, second, third]


def test_a_part_alone_is_to_be_had_as_itself():
    part = PartFactory()
    chain = chain_of(part)
    assert (chain.earlier, chain.later, chain.now, chain.links) == ([], [], [part], [])


def test_another_number_that_became_the_same_one_is_no_part_of_its_chain():
    ours = SupersessionFactory()
    SupersessionFactory(replaced_by=ours.replaced_by)
    assert chain_of(ours.part).links == [ours]


def test_a_withdrawn_link_stands_struck_out_and_leads_nowhere():
    wrong = SupersessionFactory()
    beyond = SupersessionFactory(part=wrong.replaced_by)
    withdraw_supersession(supersession=wrong, reason="misread", by=PersonFactory(), at=MORNING)
    chain = chain_of(wrong.part)
    assert (chain.later, chain.now, chain.links) == ([], [wrong.part], [wrong])
    assert chain_of(beyond.part).links == [beyond, wrong]


def test_a_long_chain_needs_as_many_queries_as_a_short_one(django_assert_num_queries):
    link = first = SupersessionFactory()
    for _ in range(6):
        link = SupersessionFactory(part=link.replaced_by)
    with django_assert_num_queries(1):
        chain = chain_of(first.part)
        assert [str(one.part) for one in chain.links]
    assert len(chain.later) == 7
