from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from parts.answers.services import withdraw_answer
from parts.buying.services import OrderedLine, order_parts
from parts.fits.services import withdraw_fit
from parts.stock.services import StripLine, receive_stock, strip_donor
from parts.support.selectors.part import part_had
from tests.factories.parts import (
    AnswerFactory,
    BinFactory,
    FitFactory,
    PartFactory,
    SupersessionFactory,
    SupplierPriceFactory,
)
from tests.factories.units import (
    MORNING,
    TODAY,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
    UnitFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def fit():
    model = MachineModelFactory()
    place = KindComponentFactory(
        kind=model.kind, component__slug="running-belt", component__name="running belt"
    )
    return FitFactory(model=model, part__component=place.component)


@pytest.fixture
def reader(client):
    client.force_login(PersonFactory(seats=["front desk", "technician", "owner"]))
    return client


def had(part, on=TODAY):
    return part_had(part, on)


def asked(status="supported", days=0, **about):
    return AnswerFactory(status=status, given_on=TODAY - timedelta(days=days), **about)


def maker_said(part, **said):
    return asked(part=part, model=None, **said)


def on_shelf(part, many=2):
    receive_stock(
        part=part, bin=BinFactory(), quantity=Decimal(many), unit_cost=Decimal(40), on=TODAY,
        document="D00001", by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def ordered(part, many=3):
    line = OrderedLine(part, Decimal(many), Decimal(40), "J00007", TODAY + timedelta(days=5))
    act = {"key": uuid4(), "by": PersonFactory(), "at": MORNING}
    return order_parts(supplier="Holmgate depot", lines=[line], on=TODAY, **act)


def donor(model, component):
    unit = UnitFactory(model=model, serial="DN000001")
    line = StripLine(component, "good", "leave", value=Decimal(1))
    return strip_donor(
        unit=unit, lines=[line], cost=Decimal(30), on=TODAY, document="B00001",
        by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def test_a_part_that_nobody_asked_about_is_unasked(fit):
    found = had(fit.part)
    assert (found.row.covered.word, found.answers, found.to_come) == ("unasked", [], [])


def test_a_word_on_the_part_counts_before_one_on_its_model(fit):
    asked(model=fit.model, days=9)
    maker_said(fit.part, status="ended", days=3)
    assert had(fit.part).row.covered.word == "gone"


def test_it_can_be_had_where_the_maker_of_one_of_its_models_still_has_it(fit):
    other = FitFactory(part=fit.part, model=MachineModelFactory(kind=fit.model.kind))
    asked(model=fit.model, status="ended", days=1)
    asked(model=other.model, days=20)
    found = had(fit.part)
    assert found.row.covered.word == "had"
    assert found.ways[0].answer.model == other.model


def test_a_word_on_another_component_says_nothing_of_it(fit):
    board = KindComponentFactory(
        kind=fit.model.kind, component__slug="board", component__name="board", position=2
    ).component
    asked(model=fit.model, component=board)
    assert had(fit.part).row.covered.word == "unasked"


def test_a_word_on_another_part_of_its_model_says_nothing_of_it(fit):
    other = FitFactory(model=fit.model, part__component=fit.part.component).part
    maker_said(other)
    found = had(fit.part)
    assert (found.row.covered.word, found.answers) == ("unasked", [])


def test_it_can_be_had_by_its_later_number(fit):
    later = PartFactory(component=fit.part.component)
    SupersessionFactory(part=fit.part, replaced_by=later)
    SupplierPriceFactory(part=later, cost=Decimal(71))
    found = had(fit.part)
    assert (found.row.best.offer.number, found.row.best.offer.cost) == (later.number, Decimal(71))


def test_a_later_number_fits_what_the_earlier_one_did(fit):
    later = PartFactory(component=fit.part.component)
    SupersessionFactory(part=fit.part, replaced_by=later)
    asked(model=fit.model)
    assert had(later).row.covered.word == "had"


def test_a_model_of_a_fit_that_was_withdrawn_says_nothing_of_it(fit):
    asked(model=fit.model)
    withdraw_fit(fit=fit, reason="another belt", by=PersonFactory(), at=MORNING)
    assert had(fit.part).row.covered.word == "unasked"


def test_names_merged_into_its_model_speak_for_it(fit):
    merged = MachineModelFactory(merged_into=fit.model)
    asked(model=merged)
    assert had(fit.part).row.covered.word == "had"


def test_a_part_that_fits_nothing_known_stands_by_its_own_answers():
    part = PartFactory()
    SupplierPriceFactory(part=part)
    assert had(part).row.best.offer.route == "supplier"


def test_the_shelf_donors_and_orders_are_told(fit):
    on_shelf(fit.part)
    ordered(fit.part)
    stripped = donor(fit.model, fit.part.component)
    found = had(fit.part)
    assert found.row.best.offer.route == "shelf"
    assert found.lying == 2
    assert [one.donor_id for one in found.donors] == [stripped.pk]
    assert [(line.to_come, line.demand) for line in found.to_come] == [(3, "J00007")]


def test_withdrawn_answers_stay_struck_with_the_reason_and_do_not_count(reader, fit):
    answer = maker_said(fit.part, status="ended")
    withdraw_answer(answer=answer, reason="wrong number read out", by=PersonFactory(), at=MORNING)
    page = reader.get(reverse("part-had", args=[fit.part.pk])).text
    assert "<s>ended</s>" in page
    assert "wrong number read out" in page
    assert had(fit.part).row.covered.word == "unasked"


def test_the_word_carries_source_day_and_age(reader, fit):
    day = timezone.localdate() - timedelta(days=3)
    AnswerFactory(model=None, part=fit.part, given_on=day, given_by="Odile, parts desk")
    page = reader.get(reverse("part-had", args=[fit.part.pk])).text
    assert "Odile, parts desk" in page
    assert "3 days ago" in page
    assert "still holds with" in page


def test_the_parts_page_fetches_it_and_it_stands_alone_as_well(reader, fit):
    address = reverse("part-had", args=[fit.part.pk])
    page = reader.get(fit.part.get_absolute_url()).text
    assert f'hx-get="{address}"' in page
    assert f'href="{address}"' in page
    alone = reader.get(address).text
    fetched = reader.get(address, headers={"HX-Request": "true"}).text
    assert "<!doctype html>" in alone
    assert "<!doctype html>" not in fetched
    assert "Can it be had?" in fetched


def test_an_answer_leads_to_the_page_of_what_it_is_about(reader, fit):
    of_part, of_model = maker_said(fit.part), asked(model=fit.model)
    assert of_part.get_absolute_url() == fit.part.get_absolute_url()
    assert of_model.get_absolute_url() == fit.model.get_absolute_url()
    for answer in (of_part, of_model):
        assert reader.get(answer.get_absolute_url()).status_code == 200


def test_a_part_that_is_not_there_is_not_found(reader):
    assert reader.get(reverse("part-had", args=[999])).status_code == 404


def test_it_asks_at_most_12_queries_whatever_is_known(reader, fit, django_assert_max_num_queries):
    def grow():
        model = MachineModelFactory(kind=fit.model.kind)
        FitFactory(part=fit.part, model=model)
        asked(model=model)
        maker_said(fit.part)
        SupplierPriceFactory(part=fit.part, party=f"depot {model.pk}")
        donor_unit = UnitFactory(model=model)
        strip_donor(
            unit=donor_unit, lines=[StripLine(fit.part.component, "good", "leave")],
            cost=Decimal(0), on=TODAY, document="B00001", by=PersonFactory(), at=MORNING,
        )  # fmt: skip
        ordered(fit.part)

    for _ in range(3):
        grow()
    address = reverse("part-had", args=[fit.part.pk])
    with django_assert_max_num_queries(12):
        assert reader.get(address).status_code == 200
