import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse

from shop.lots.models import Lot, Valuation
from tests.factories.shop import ShopProfileFactory
from tests.factories.units import PersonFactory
from tests.shop.lots.valuing.building import goods, lot, treadmill, valued, wanted

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client):
    """The owner, signed in."""
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


@pytest.fixture
def club():
    return lot({"model": treadmill(), "count": 2}, goods(), asked=Decimal(1500))


def form(**more):
    return {
        "key": str(uuid.uuid4()),
        "asked": "1500",
        "margin": "35",
        "odds": "80",
        "other_costs": "0",
        "draws": "1000",
        "seed": "1",
        **more,
    }


def test_a_lot_is_valued_from_its_sheet(owner, club):
    sent = form(figure_storage="20")
    answer = owner.post(reverse("lot-worth", args=[club.pk]), sent)
    row = Valuation.objects.get()
    assert answer.url == row.get_absolute_url()
    assert (row.margin, row.odds, row.asked) == (Decimal("0.35"), Decimal("0.8"), 1500)
    assert row.typed == {"storage": 20.0}
    owner.post(reverse("lot-worth", args=[club.pk]), sent)
    assert Valuation.objects.count() == 1


def test_what_equals_the_stated_figure_is_not_typed(owner, club):
    owner.post(reverse("lot-worth", args=[club.pk]), form(figure_storage="12"))
    assert Valuation.objects.get().typed == {}


def test_the_sheet_keeps_what_was_typed_before_and_offers_the_models_prices(owner, club):
    valued(club, typed={"storage": 20.0, "price:Corvane T-900": 900.0})
    page = owner.get(reverse("lot-worth", args=[club.pk]))
    sheet = page.context["form"]
    assert sheet.fields["figure_storage"].initial == 20.0
    assert sheet.fields["price_0"].initial == 900.0
    assert sheet.fields["price_0"].label == "Corvane T-900"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"asked": "-4"}, "asked"),
        ({"margin": "abc"}, "margin"),
        ({"odds": "100"}, "odds"),
        ({"draws": "3"}, None),
        ({"figure_lot_weight": "7"}, "figure_lot_weight"),
        ({"figure_storage": "nan"}, "figure_storage"),
        ({"figure_lot_weight": "0.8", "figure_machine_weight": "0.8"}, None),
    ],
)
def test_a_wrong_figure_is_told_and_nothing_is_written(owner, club, wrong, field):
    answer = owner.post(reverse("lot-worth", args=[club.pk]), form(**wrong))
    assert answer.status_code == 422
    assert answer.context["form"].errors[field or "__all__"]
    assert not Valuation.objects.exists()


def test_a_valuation_that_waits_asks_again_and_says_so(owner, club):
    page = owner.get(wanted(club).get_absolute_url()).text
    assert "being reckoned" in page
    assert 'hx-trigger="every 1500ms"' in page


def test_a_bid_shows_its_prices_pictures_and_calls(owner, club):
    row = valued(club, asked=Decimal(1500))
    answer = owner.get(row.get_absolute_url())
    page = answer.text
    assert page.count("<svg") == 4
    assert page.count('role="img"') == 4
    assert "All odds are still stated ones" in page
    assert "Most to pay" in page
    assert answer.context["page"].met == round(100 * row.figures["met"])
    assert "shop default" in page


def test_a_lot_not_worth_hauling_says_so(owner):
    made = lot({"model": treadmill(), "count": 1, "note": "dead"}, kilometres=400)
    page = owner.get(valued(made).get_absolute_url()).text
    assert "Not even as a gift" in page


def test_what_had_better_be_left_is_named_by_model_and_line(owner):
    made = lot({"model": treadmill(), "count": 2}, {"model": treadmill("T-1"), "note": "dead"})
    row = valued(made)
    page = owner.get(row.get_absolute_url())
    (left,) = [one for one in page.context["page"].refuse if one["line"] == "2"]
    assert (left["name"], left["count"]) == ("Corvane T-1", 1)
    assert "Corvane T-1, line 2: $" in page.text


def test_the_paper_is_one_page(owner, club):
    row = valued(club)
    answer = owner.get(reverse("valuation-paper", args=[row.pk]))
    content = b"".join(answer.streaming_content)
    assert content.startswith(b"%PDF-")
    assert content.count(b"/Type /Page\n") == 1
    assert answer["Content-Disposition"].startswith("attachment")


def test_of_one_that_waits_there_is_no_paper(owner, club):
    assert owner.get(reverse("valuation-paper", args=[wanted(club).pk])).status_code == 404


def test_a_bid_is_reckoned_again_by_a_button(owner, club):
    first = valued(club)
    answer = owner.post(reverse("valuation-again", args=[first.pk]), {"key": str(uuid.uuid4())})
    again = Valuation.objects.get(again_of=first)
    assert answer.url == again.get_absolute_url()


def test_pages_stay_within_their_queries(owner, club, django_assert_max_num_queries):
    rows = [valued(club) for _ in range(3)]
    with django_assert_max_num_queries(12):
        owner.get(rows[0].get_absolute_url())
    with django_assert_max_num_queries(12):
        owner.get(reverse("lot-worth", args=[club.pk]))


def test_the_lots_page_tells_its_newest_bid_and_offers_to_value_it_first(owner, club):
    page = owner.get(club.get_absolute_url())
    assert page.context["bid"] is None
    row = valued(club, Decimal(1500))
    Lot.objects.filter(pk=club.pk).update(state="listed")
    text = owner.get(club.get_absolute_url()).text
    assert row.get_absolute_url() in text
    assert f'class="act main" href="{reverse("lot-worth", args=[club.pk])}"' in text


def test_what_was_asked_in_the_newest_bid_stands_in_the_form_again(owner, club):
    valued(club, Decimal(1750))
    sheet = owner.get(reverse("lot-worth", args=[club.pk])).context["form"]
    assert sheet["asked"].value() == Decimal(1750)


def test_where_no_question_tells_the_bid_says_so_and_what_was_not_tried(owner, club):
    row = valued(club, Decimal(1500))
    figures = {**row.figures, "calls_first": [], "refusable": 90}
    figures["refusals"] = row.figures["refusals"][:1]
    again = Valuation.objects.create(
        lot=club, key=uuid.uuid4(), state="done", margin=row.margin, odds=row.odds, seed=1,
        draws=1000, inputs=row.inputs, figures=figures, valued_on=row.valued_on,
        wanted_at=row.wanted_at, wanted_by=row.wanted_by, ended_at=row.ended_at,
    )  # fmt: skip
    text = owner.get(again.get_absolute_url()).text
    assert "Nothing is left open that a call or a look could tell" in text
    assert "Of 90 sorts of machines and goods the 1 that seem to bring least" in text


def test_a_bid_says_how_many_questions_and_draws_were_looked_at(owner, club):
    row = valued(club, Decimal(1500))
    assert row.figures["askable"] == len(row.figures["calls_first"])
    assert row.figures["driver_draws"] == row.draws
    text = owner.get(row.get_absolute_url()).text
    assert "were weighed" not in text
    assert "The lot is large" not in text
    count = len(row.figures["calls_first"])
    figures = {**row.figures, "askable": 1000, "driver_draws": 500}
    text = owner.get(kept_like(row, figures).get_absolute_url()).text
    assert f"Of 1000 calls and looks that are open, the {count} with most at stake" in text
    assert "these changes were reckoned on 500 of its 1000 draws" in text


def test_a_bid_tells_what_changed_since_the_one_before(owner, club):
    first = valued(club, Decimal(1500))
    assert "since changed by" not in owner.get(first.get_absolute_url()).text
    figures = {**first.figures, "most_to_pay": first.figures["most_to_pay"] + 120}
    second = kept_like(first, figures, later=timedelta(hours=1))
    page = owner.get(second.get_absolute_url())
    (most, more), (_even, shift) = page.context["page"].since
    assert (most, round(more, 2), shift) == (first.figures["most_to_pay"], 120.0, 0.0)
    assert f'href="{first.get_absolute_url()}">The bid of' in page.text


def test_where_every_open_question_tells_the_bid_does_not_say_that_none_is_left(owner, club):
    row = valued(club, Decimal(1500))
    told = {"kind": "look", "model": "x", "about": "", "count": 1, "worth": 9.0, "error": 1.0,
            "tells": True, "minutes": 13.0, "limit_change": 0.0, "limit_error": 0.0}  # fmt: skip
    text = owner.get(kept_like(row, {**row.figures, "calls_first": [told]}).get_absolute_url()).text
    assert "Look at 1 machine" in text
    assert "Nothing is left open" not in text


def test_an_offer_that_nobody_would_take_is_not_shown_as_an_offer_of_nothing(owner, club):
    row = valued(club, Decimal(1500))
    assert "such a seller takes it in" in owner.get(row.get_absolute_url()).text
    none = kept_like(row, {**row.figures, "opening": 0.0, "opening_taken": 0.0})
    text = owner.get(none.get_absolute_url()).text
    assert "nothing up to the most to pay is likely to be taken" in text
    assert "such a seller takes it in" not in text


def kept_like(row, figures, later=timedelta(0)):
    """A valuation kept beside one, with other figures."""
    return Valuation.objects.create(
        lot=row.lot, key=uuid.uuid4(), state="done", margin=row.margin, odds=row.odds, seed=1,
        draws=1000, inputs=row.inputs, figures=figures, valued_on=row.valued_on,
        wanted_at=row.wanted_at + later, wanted_by=row.wanted_by, ended_at=row.ended_at,
    )  # fmt: skip


def test_a_call_leads_to_where_its_answer_is_written_and_a_look_to_the_walk(owner, club):
    row = valued(club, Decimal(1500))
    model = club.lines.get(sort="machine").model
    told = {"worth": 9.0, "error": 1.0, "tells": True, "minutes": 12.0, "limit_change": 0.0}
    told |= {"limit_error": 0.0, "model": str(model)}
    calls = [told | {"kind": "call", "about": "the maker", "count": 0}]
    calls += [told | {"kind": "look", "about": "", "count": 2}] * 12
    again = Valuation.objects.create(
        lot=club, key=uuid.uuid4(), state="done", margin=row.margin, odds=row.odds, seed=1,
        draws=1000, inputs=row.inputs, figures={**row.figures, "calls_first": calls},
        valued_on=row.valued_on, wanted_at=row.wanted_at, wanted_by=row.wanted_by,
        ended_at=row.ended_at,
    )  # fmt: skip
    text = owner.get(again.get_absolute_url()).text
    assert f'href="{reverse("answer-add", args=[model.pk])}"' in text
    assert text.count(f'href="{reverse("lot-walk", args=[club.pk])}"') == 12
    assert "3 more that are worth something" in text
