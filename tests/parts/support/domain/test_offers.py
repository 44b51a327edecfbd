from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from parts.answers.domain.odds import Asked, learn
from parts.answers.domain.support import Freshness, Said, support
from parts.support.domain.offers import Donated, Fitted, Known, Shelved, cost_for_one, offers_of

ON = date(2026, 6, 1)
RULES = {
    "phone": Freshness(180, 30),
    "notice": Freshness(180, 30),
    "listing": Freshness(60, 30),
    "order": Freshness(180, 30),
}
ODDS = learn([], {})
BELT = Fitted(7, "B-7")


def said(number, status, given_on=date(2026, 5, 1), **more):
    defaults = {
        "given_by": "parts desk",
        "channel": "phone",
        "recorded_at": datetime(2026, 5, 1, 12, tzinfo=UTC),
        "counts_from": given_on,
    }
    return Said(id=number, status=status, given_on=given_on, **defaults | more)


def listed(number, party="Millrace Spares", cost="80.00", **more):
    return said(
        number,
        "supported",
        channel="listing",
        route="supplier",
        party=party,
        cost=Decimal(cost),
        lead_days=3,
        breadth=2,
        **more,
    )


def offers(known, unasked=0.4):
    return offers_of(known, lambda answers: support(answers, ON, RULES), ODDS, unasked)


def routes(found):
    return {(one.route, one.party): one.status for one in found}


def test_what_nobody_asked_has_the_makers_unasked_offer_and_its_odds():
    [only] = offers(Known(), unasked=0.4)
    assert (only.route, only.status, only.counts, only.holds) == ("maker", "not-asked", False, 0.4)


def test_an_answer_for_the_model_stands_in_for_each_component():
    [only] = offers(Known(wide=[said(1, "supported")], fitted=[BELT]))
    assert (only.status, only.answer_id, only.breadth, only.part) == ("supported", 1, 0, None)


def test_an_answer_about_the_part_outdoes_the_model_s_of_the_same_day():
    known = Known(
        wide=[said(1, "supported")],
        by_part={7: [said(2, "ended", breadth=2)]},
        fitted=[BELT],
    )
    [only] = offers(known)
    assert (only.status, only.answer_id, only.number) == ("ended", 2, "B-7")


def test_a_published_end_closes_the_makers_route_only():
    end = said(1, "ended", channel="notice")
    found = offers(Known(wide=[end], by_part={7: [listed(2)]}, fitted=[BELT]))
    assert routes(found) == {
        ("maker", ""): "ended",
        ("supplier", "Millrace Spares"): "supported",
    }


def test_each_supplier_is_a_route_of_its_own():
    known = Known(by_part={7: [listed(1), listed(2, party="Other", cost="70.00")]}, fitted=[BELT])
    costs = {one.party: one.cost for one in offers(known) if one.route == "supplier"}
    assert costs == {"Millrace Spares": Decimal("80.00"), "Other": Decimal("70.00")}


def test_what_lies_on_the_shelf_is_held_when_there_is_enough_of_it():
    pair = Fitted(7, "B-7", quantity=Decimal(2))
    enough = Known(fitted=[pair], shelf={7: Shelved(Decimal(2), Decimal("11.00"))})
    short = Known(fitted=[pair], shelf={7: Shelved(Decimal(1), Decimal("11.00"))})
    assert routes(offers(enough))["shelf", ""] == "held"
    assert ("shelf", "") not in routes(offers(short))


def test_a_donor_is_a_route_by_its_serial():
    found = offers(Known(donors=[Donated("CV2014001", "worn")]))
    assert routes(found)["donor", "CV2014001"] == "held"


def test_a_part_of_standard_size_can_be_had_from_any_dealer_in_such_parts():
    found = offers(Known(fitted=[Fitted(9, "X-1", designation="6203-2RS")]))
    [size] = [one for one in found if one.route == "standard"]
    assert (size.number, size.counts, size.holds) == ("6203-2RS", True, 0.97)


@pytest.mark.parametrize("via", ["sister", "standard"])
def test_the_makers_word_on_this_model_says_nothing_of_another_labels_part(via):
    known = Known(
        wide=[said(1, "ended")],
        by_part={8: [listed(2)]},
        fitted=[Fitted(8, "S-8", via=via)],
    )
    [supplier] = [one for one in offers(known) if one.route == "supplier"]
    assert (supplier.via, supplier.number) == (via, "S-8")


def test_a_back_order_comes_no_sooner_than_its_day():
    late = said(1, "back-ordered", until=date(2026, 7, 1), lead_days=5)
    [only] = offers(Known(wide=[late]))
    assert (only.lead_days, only.until) == (30, date(2026, 7, 1))


def test_a_stale_listing_is_no_fresh_yes():
    old = listed(1, given_on=date(2026, 1, 1))
    [supplier] = [
        one for one in offers(Known(by_part={7: [old]}, fitted=[BELT])) if one.route == "supplier"
    ]
    assert (supplier.yes, supplier.counts) == (True, False)


def test_the_odds_of_an_offer_fall_with_its_age():
    new = offers(Known(wide=[said(1, "supported", date(2026, 5, 30))]))[0]
    old = offers(Known(wide=[said(1, "supported", date(2025, 5, 30))]))[0]
    assert 0 < old.holds < new.holds < 1


def test_asked_makers_teach_about_their_unasked_models():
    taught = learn([], {(1, "commercial"): Asked(yes=9, asked=9)})
    assert taught.unasked(1, "commercial", 20) > ODDS.unasked(1, "commercial", 20)


def test_of_a_number_that_became_another_the_later_one_decides():
    later = Fitted(8, "B-8", via="superseded")
    became = said(1, "superseded", breadth=2, replaced_by=8)
    alone = Known(by_part={7: [became]}, fitted=[BELT, later])
    assert [one.status for one in offers(alone)] == ["superseded"]
    ended = said(2, "ended", breadth=2)
    both = Known(by_part={7: [became], 8: [ended]}, fitted=[BELT, later])
    assert [one.status for one in offers(both)] == ["ended"]


def test_the_cost_of_one_is_rounded_once_to_the_millionth():
    assert cost_for_one(Decimal(3), Decimal("10.00")) == Decimal("3.333333")
