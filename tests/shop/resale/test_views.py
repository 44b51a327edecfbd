import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.floor.models import Stay
from shop.front.selectors.sale import for_sale
from shop.resale.models import AskingPrice, Grading, Sale
from shop.till.models import Invoice
from tests.factories.resale import OwnStayFactory, ready_stay
from tests.factories.shop import CustomerFactory, ShopProfileFactory, StayFactory
from tests.factories.units import (
    KindFactory,
    MachineModelFactory,
    PersonFactory,
    RecallCheckFactory,
    UnitFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def sit(client):
    """Sign in on a seat."""

    def down(*seats):
        client.force_login(PersonFactory(seats=seats))
        return client

    return down


@pytest.fixture
def today():
    return timezone.localdate()


def sale_typed(**changes):
    typed = {
        "key": str(uuid.uuid4()),
        "on": timezone.localdate().isoformat(),
        "method": "cash",
        "outlet": "5-15",
    }
    return typed | {"customer": CustomerFactory().pk} | changes


def at(name, stay):
    return reverse(name, args=[stay.pk])


def test_the_list_says_what_each_machine_still_needs(sit, today):
    ready_stay(today)
    OwnStayFactory()
    page = sit("technician").get(reverse("ready-list")).text
    assert "ready for sale" in page
    assert "10 things missing" in page
    assert "Its serial plate is not confirmed by a photo." in page


def test_the_list_shows_only_the_ready_ones_when_asked(sit, today):
    ready, bare = ready_stay(today), OwnStayFactory()
    page = sit("owner").get(reverse("ready-list"), {"state": "ready"}).text
    assert at("readiness", ready) in page
    assert at("readiness", bare) not in page


@pytest.mark.parametrize("text", ["tr-900", "TR 900", "corvane", "sx-77"])
def test_the_list_finds_a_machine_by_maker_model_or_serial(sit, text):
    model = MachineModelFactory(number="TR-900")
    OwnStayFactory(unit=UnitFactory(model=model, serial="SX-77", serial_key="SX77"))
    page = sit("owner").get(reverse("ready-list"), {"text": text}).text
    assert "TR-900" in page


def test_a_list_without_a_machine_says_so(sit):
    assert "No machine of ours fits" in sit("owner").get(reverse("ready-list")).text


def test_a_choice_that_does_not_exist_shows_everything(sit):
    OwnStayFactory()
    page = sit("owner").get(reverse("ready-list"), {"state": "nonsense"})
    assert page.status_code == 200
    assert "10 things missing" in page.text


def test_the_list_needs_no_more_queries_for_more_machines(
    sit, today, django_assert_max_num_queries
):
    ShopProfileFactory()
    client = sit("owner")
    for _ in range(4):
        ready_stay(today)
        OwnStayFactory()
    with django_assert_max_num_queries(12):
        client.get(reverse("ready-list"))


def test_each_unmet_point_is_a_sentence_and_a_link(sit):
    stay = OwnStayFactory()
    page = sit("owner").get(at("readiness", stay)).text
    assert "It has no asking price." in page
    assert f'href="{at("price-set", stay)}"' in page
    assert f'href="{reverse("recall-check-add", args=[stay.unit_id])}"' in page


def test_a_seat_sees_no_link_that_it_may_not_open(sit):
    stay = OwnStayFactory()
    page = sit("front desk").get(at("readiness", stay)).text
    assert "It has no asking price." in page
    assert at("price-set", stay) not in page


def test_a_ready_machine_offers_its_sale(sit, today):
    stay = ready_stay(today)
    assert at("machine-sell", stay) in sit("front desk").get(at("readiness", stay)).text


def test_what_it_cost_is_not_shown_at_the_counter(sit, today):
    stay = ready_stay(today)
    assert "$350.00" not in sit("front desk").get(at("readiness", stay)).text
    assert "$350.00" in sit("owner").get(at("readiness", stay)).text


def test_the_page_of_one_machine_needs_few_queries(sit, today, django_assert_max_num_queries):
    ShopProfileFactory()
    client, stay = sit("owner"), ready_stay(today)
    with django_assert_max_num_queries(12):
        client.get(at("readiness", stay))


def test_a_customers_machine_leads_to_its_own_page_with_a_sentence(sit):
    stay = StayFactory()
    answer = sit("owner").get(at("readiness", stay))
    assert answer.url == reverse("machine", args=[stay.unit_id])


def test_a_stay_that_does_not_exist_is_not_found(sit):
    assert sit("owner").get(reverse("readiness", args=[999])).status_code == 404


def test_a_grading_is_written_down(sit):
    stay = OwnStayFactory()
    typed = {"grade": "A", "cleaned": "on", "safety_key_present": "on"}
    answer = sit("technician").post(at("grading-add", stay), typed)
    assert answer.url == at("readiness", stay)
    grading = Grading.objects.get()
    assert (grading.grade, grading.cleaned, grading.safety_key_present) == ("A", True, True)


def test_a_grading_without_a_grade_says_so_at_the_field(sit):
    answer = sit("technician").post(at("grading-add", OwnStayFactory()), {"cleaned": "on"})
    assert answer.status_code == 422
    assert answer.context["form"].errors["grade"]
    assert not Grading.objects.exists()


def test_a_kind_without_a_safety_key_is_not_asked_for_it(sit):
    rower = UnitFactory(model=MachineModelFactory(kind=KindFactory(slug="rower")))
    page = sit("technician").get(at("grading-add", OwnStayFactory(unit=rower)))
    assert "safety_key_present" not in page.context["form"].fields


def test_a_price_is_set(sit):
    stay = OwnStayFactory()
    answer = sit("owner").post(at("price-set", stay), {"price": "950", "floor": "900"})
    assert answer.url == at("readiness", stay)
    assert str(AskingPrice.objects.get().price) == "950.00"


def test_a_price_below_the_least_says_so_at_the_reason(sit):
    answer = sit("owner").post(at("price-set", OwnStayFactory()), {"price": "1", "floor": "9"})
    assert answer.status_code == 422
    assert "write down the reason" in answer.context["form"].errors["reason"][0]


@pytest.mark.parametrize("price", ["", "0", "-3", "many", "1.005", "1e99"])
def test_a_wrong_price_says_so_at_the_field(sit, price):
    answer = sit("owner").post(at("price-set", OwnStayFactory()), {"price": price, "floor": "0"})
    assert answer.status_code == 422
    assert answer.context["form"].errors["price"]
    assert not AskingPrice.objects.exists()


def test_a_technician_sets_no_price(sit):
    assert sit("technician").get(at("price-set", OwnStayFactory())).status_code == 403


def test_a_sale_leads_to_its_invoice(sit, today):
    stay = ready_stay(today)
    answer = sit("front desk").post(at("machine-sell", stay), sale_typed())
    assert answer.url == reverse("invoice", args=[Sale.objects.get().invoice.number])


def test_a_double_click_sells_once(sit, today):
    client, stay, typed = sit("front desk"), ready_stay(today), sale_typed()
    first = client.post(at("machine-sell", stay), typed)
    second = client.post(at("machine-sell", stay), typed)
    assert first.url == second.url
    assert Invoice.objects.count() == 1


def test_a_second_tab_is_told_that_the_machine_is_gone(sit, today):
    client, stay = sit("front desk"), ready_stay(today)
    client.post(at("machine-sell", stay), sale_typed())
    answer = client.post(at("machine-sell", stay), sale_typed())
    assert answer.url == reverse("machine", args=[stay.unit_id])
    assert Invoice.objects.count() == 1


def test_a_sale_without_a_buyer_says_so_at_the_field(sit, today):
    answer = sit("front desk").post(at("machine-sell", ready_stay(today)), sale_typed(customer=""))
    assert answer.status_code == 422
    assert answer.context["form"].errors["who"]


def test_a_wrong_telephone_number_of_a_new_buyer_sells_nothing(sit, today):
    typed = sale_typed(customer="", new_name="Ada Marsh", new_phone="letters")
    answer = sit("front desk").post(at("machine-sell", ready_stay(today)), typed)
    assert answer.status_code == 422
    assert answer.context["form"].errors["new_phone"]
    assert not Invoice.objects.exists()


def test_an_amount_without_a_method_asks_how_it_was_paid(sit, today):
    typed = sale_typed(method="", amount="100.00")
    answer = sit("front desk").post(at("machine-sell", ready_stay(today)), typed)
    assert answer.context["form"].errors["method"]


def test_too_much_money_says_so_at_the_amount(sit, today):
    typed = sale_typed(amount="5000.00")
    answer = sit("front desk").post(at("machine-sell", ready_stay(today)), typed)
    assert answer.context["form"].errors["amount"]
    assert not Invoice.objects.exists()


def test_a_machine_that_is_not_ready_is_not_sold(sit):
    answer = sit("front desk").post(at("machine-sell", OwnStayFactory()), sale_typed())
    assert answer.status_code == 422
    assert "not ready for sale" in answer.text
    assert not Invoice.objects.exists()


def test_a_day_before_it_came_says_so_at_the_day(sit, today):
    stay = ready_stay(today)
    typed = sale_typed(on=(stay.came_on - timedelta(days=1)).isoformat())
    answer = sit("front desk").post(at("machine-sell", stay), typed)
    assert answer.context["form"].errors["on"]


def test_searching_a_buyer_keeps_what_was_typed(sit, today):
    CustomerFactory(name="Ada Marsh")
    typed = sale_typed(customer="", who="marsh", find="yes", reference="till 2")
    page = sit("front desk").post(at("machine-sell", ready_stay(today)), typed)
    assert page.status_code == 200
    assert "Ada Marsh" in page.text
    assert 'value="till 2"' in page.text


def to(name, stay, *more):
    return reverse(name, args=[stay.pk, *more])


def test_the_other_ways_out_say_what_each_still_asks_for(sit):
    stay = OwnStayFactory()
    page = sit("owner").get(at("readiness", stay)).text
    assert to("way-out", stay, "scrapped") in page
    points = sit("owner").get(to("way-out", stay, "wholesale")).text
    assert "What this way out still asks for" in points
    assert to("waiver-add", stay, "wholesale", "plate") in points
    assert to("waiver-add", stay, "wholesale", "recall-unread") not in points


def test_only_the_owner_is_offered_to_let_a_condition_pass(sit):
    stay = OwnStayFactory()
    assert "let-pass" not in sit("technician").get(to("way-out", stay, "wholesale")).text
    address = to("waiver-add", stay, "wholesale", "plate")
    assert sit("technician").get(address).status_code == 403
    answer = sit("owner").post(address, {"reason": "the sticker is gone"}, follow=True)
    assert "your reason is written down" in answer.text
    assert "the sticker is gone" in sit("owner").get(at("written", stay)).text


def test_what_nobody_may_let_pass_has_no_page_for_it(sit):
    stay = OwnStayFactory()
    answer = sit("owner").get(to("waiver-add", stay, "retail", "recall-unread"), follow=True)
    assert "Nothing is to be let pass here." in answer.text


def test_an_exit_nobody_knows_is_not_found(sit):
    assert sit("owner").get(to("way-out", OwnStayFactory(), "moon")).status_code == 404
    assert sit("owner").get(to("machine-sell-by", OwnStayFactory(), "donated")).status_code == 404
    assert sit("owner").get(to("machine-dispose", OwnStayFactory(), "retail")).status_code == 404
    assert sit("owner").get(to("disclosure-add", OwnStayFactory(), "scrapped")).status_code == 404


def test_a_paper_is_read_before_it_is_attached_and_printed_after(sit):
    stay, client = OwnStayFactory(), sit("front desk")
    address = to("disclosure-add", stay, "for-parts")
    assert "sold for its parts only" in client.get(address).text
    answer = client.post(address, {"key": str(uuid.uuid4()), "note": "No cord."}, follow=True)
    assert "No cord." in answer.text
    assert "signature" in answer.text


def test_a_wrong_outlet_says_so_at_the_field(sit, today):
    stay = ready_stay(today)
    answer = sit("front desk").post(at("machine-sell", stay), sale_typed(outlet="6-20"))
    assert "licensed electrician" in answer.context["form"].errors["outlet"][0]
    told = sale_typed(outlet="6-20", told="on")
    assert sit("front desk").post(at("machine-sell", stay), told).status_code == 302


def test_an_agreed_price_below_the_least_asks_for_its_reason_at_the_field(sit, today):
    typed = sale_typed(price="10")
    answer = sit("front desk").post(at("machine-sell", ready_stay(today)), typed)
    assert answer.context["form"].errors["price_reason"]


def reserve_typed(today, **changes):
    typed = {"key": str(uuid.uuid4()), "until_on": today.isoformat(), "amount": "80"}
    return typed | {"method": "cash", "customer": CustomerFactory().pk} | changes


def test_a_reservation_leads_to_the_receipt_of_its_deposit(sit, today):
    stay, client = ready_stay(today), sit("front desk")
    answer = client.post(at("reservation", stay), reserve_typed(today), follow=True)
    assert "Deposit A00001" in answer.text
    assert "reserved for" in client.get(reverse("ready-list"), {"state": "reserved"}).text
    refused = client.post(at("reservation", stay), reserve_typed(today))
    assert refused.status_code == 422
    assert "already" in refused.text


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"amount": "0"}, "amount"), ({"amount": "9000"}, "amount"), ({"until_on": ""}, "until_on")],
)
def test_a_wrong_reservation_says_so_at_the_field(sit, today, changes, field):
    typed = reserve_typed(today, **changes)
    answer = sit("front desk").post(at("reservation", ready_stay(today)), typed)
    assert answer.status_code == 422
    assert answer.context["form"].errors[field]


def test_a_deposit_is_kept_only_for_a_reason(sit, today):
    stay, client = ready_stay(today), sit("front desk")
    client.post(at("reservation", stay), reserve_typed(today))
    address = reverse("reservation-release", args=[stay.reservations.get().pk])
    refused = client.post(address, {"keep": "yes", "reason": ""})
    assert "why the deposit is kept" in refused.context["form"].errors["reason"][0]
    client.post(address, {"keep": "no", "reason": ""})
    assert stay.reservations.get().deposit.end.how == "returned"


def test_scrap_leads_to_its_paper_and_the_search_finds_it(sit, today):
    stay, client = ready_stay(today), sit("owner")
    typed = {"key": str(uuid.uuid4()), "taker": "the yard", "reason": "bent"}
    address = to("machine-dispose", stay, "scrapped")
    assert client.post(address, typed | {"on": ""}).status_code == 422
    answer = client.post(address, typed | {"on": today.isoformat()}, follow=True)
    assert "G00001" in answer.text
    found = client.get(reverse("search"), {"q": "G00001"}, follow=True)
    assert "the yard" in found.text or "scrapped" in found.text


def test_a_machine_that_a_recall_fits_is_not_taken_apart_on_the_owners_word_either(sit, today):
    stay = ready_stay(today)
    strip = reverse("donor-strip", args=[stay.unit_id])
    assert strip in sit("owner").get(to("way-out", stay, "stripped")).text
    RecallCheckFactory(unit=stay.unit, outcome="fits", checked_on=today)
    sit("owner").post(to("waiver-add", stay, "stripped", "recall-fits"), {"reason": "no board"})
    page = sit("owner").get(to("way-out", stay, "stripped")).text
    assert strip not in page
    assert "Let it pass" not in page


def test_the_holding_period_is_let_pass_with_a_caution_and_named_afterwards(sit, today):
    stay, client = ready_stay(today), sit("owner")
    Stay.objects.filter(pk=stay.pk).update(came_on=today)
    client.post(reverse("holding-set"), {"days": "15", "from_on": today.isoformat()})
    address = to("waiver-add", stay, "wholesale", "holding")
    assert "does not ask it of this one" in client.get(address).text
    assert "does not ask it" not in client.get(to("waiver-add", stay, "retail", "photo")).text
    client.post(address, {"reason": "bought from a dealer"})
    page = client.get(at("written", stay)).text
    for words in ("the holding period", "sale to the trade", "bought from a dealer", "retail sale"):
        assert words in page


def test_a_reserved_machine_in_the_list_says_so_once(sit, today):
    stay, client = ready_stay(today), sit("front desk")
    client.post(at("reservation", stay), reserve_typed(today))
    page = client.get(reverse("ready-list")).text
    assert page.count("reserved for") == 1


def test_the_holding_period_is_set_by_the_owner(sit, today):
    client = sit("owner")
    wrong = client.post(reverse("holding-set"), {"days": "-1", "from_on": today.isoformat()})
    assert wrong.context["form"].errors["days"]
    client.post(reverse("holding-set"), {"days": "15", "from_on": today.isoformat()})
    assert "15" in client.get(reverse("holding-period")).text
    assert 'name="days"' not in sit("technician").get(reverse("holding-period")).text


def test_the_tag_shows_price_supply_and_faults(sit, today):
    page = sit("technician").get(at("hang-tag", ready_stay(today))).text
    for words in ("$1,200.00", "120 V, an outlet for 5-15", "No fault stands"):
        assert words in page
    assert "$350.00" not in page


def test_the_price_page_tells_what_like_machines_fetch(sit):
    model = MachineModelFactory(kind__slug="treadmill", grade="light")
    stay = OwnStayFactory(unit=UnitFactory(model=model))
    page = sit("owner").get(at("price-set", stay)).text
    assert "Behind it stand 0 sales of this kind and grade, 0 of this model." in page
    assert "$900.00" in page


@pytest.mark.parametrize(
    ("name", "more"),
    [
        ("price-set", []),
        ("machine-sell", []),
        ("reservation", []),
        ("written", []),
        ("hang-tag", []),
        ("way-out", ["as-is"]),
        ("disclosure-add", ["as-is"]),
        ("machine-dispose", ["donated"]),
        ("waiver-add", ["wholesale", "plate"]),
    ],
)
def test_no_page_of_a_machine_needs_more_than_twelve_queries(
    sit, today, django_assert_max_num_queries, name, more
):
    ShopProfileFactory()
    client, stay = sit("owner"), OwnStayFactory()
    with django_assert_max_num_queries(12):
        assert client.get(to(name, stay, *more)).status_code == 200


def test_the_first_page_tells_of_a_reservation_whose_day_has_passed(sit, today):
    stay, client = ready_stay(today), sit("front desk")
    client.post(at("reservation", stay), reserve_typed(today))
    (held,) = ours_to_see(today)["Reserved"]
    assert ("is held for" in held.sentence, held.late) == (True, False)
    (late,) = ours_to_see(today + timedelta(days=1))["Reserved"]
    assert ("let it go" in late.sentence, late.late) == (True, True)


def ours_to_see(on):
    return {str(group.title): group.todos for group in for_sale(on)}


def test_whoever_left_the_deposit_is_chosen_already(sit, today, django_assert_max_num_queries):
    ShopProfileFactory()
    stay, client = ready_stay(today), sit("front desk")
    typed = reserve_typed(today)
    client.post(at("reservation", stay), typed)
    with django_assert_max_num_queries(12):
        page = client.get(at("machine-sell", stay)).text
    assert f'value="{typed["customer"]}" checked' in page
    assert "the deposit of $80.00 is taken off" in page


def test_a_machine_without_a_cord_is_never_asked_for_an_outlet(sit, today):
    rower = OwnStayFactory(
        unit=UnitFactory(model=MachineModelFactory(kind=KindFactory(slug="rower", has_cord=False)))
    )
    client = sit("front desk")
    assert "outlet" not in client.get(at("machine-sell", rower)).context["form"].fields
    refused = client.post(at("machine-sell", rower), sale_typed())
    assert "outlet" not in refused.context["form"].fields
