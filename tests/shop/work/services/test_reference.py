import pytest
from django.conf import settings
from django.db import IntegrityError, transaction

from shop.work.models import FlatRate
from shop.work.services import load_reference
from shop.work.services.proposing import flat_rates
from tests.factories.units import ComponentFactory
from units.catalogue.models import Kind, KindComponent
from units.catalogue.services import load_reference as load_catalogue
from units.inspections.selectors import understanding_rules

pytestmark = pytest.mark.django_db
REFERENCE = settings.BASE_DIR / "fixtures" / "reference"


def minutes(act, slug, kind=None):
    return FlatRate.objects.get(act=act, component=slug, kind=kind).minutes


@pytest.fixture
def catalogue():
    load_catalogue(REFERENCE)


@pytest.mark.usefixtures("catalogue")
def test_every_component_has_its_minutes_for_every_kind_of_work():
    load_reference(REFERENCE)
    components = set(FlatRate.objects.values_list("component", flat=True))
    general = FlatRate.objects.filter(kind=None)
    assert general.count() == len(components) * len(FlatRate.Act.values)
    assert (minutes("replace", "deck"), minutes("replace", "steps")) == (75, 45)


@pytest.mark.usefixtures("catalogue")
def test_loading_twice_adds_nothing_and_keeps_what_the_shop_edited():
    load_reference(REFERENCE)
    FlatRate.objects.filter(act="replace", component="deck", kind=None).update(minutes=99)
    assert load_reference(REFERENCE) == 0
    assert minutes("replace", "deck") == 99


@pytest.mark.usefixtures("catalogue")
def test_whatever_a_rule_has_replaced_has_its_minutes_on_every_kind_that_has_it():
    """Shop defaults: common practice, no published source."""
    load_reference(REFERENCE)
    for kind in Kind.objects.all():
        named = {
            component
            for rule in understanding_rules()
            if not rule.kinds or kind.pk in rule.kinds
            for component, act in rule.verdicts
            if act in ("replace", "expect")
        }
        had = set(KindComponent.objects.filter(kind=kind).values_list("component_id", flat=True))
        rates = flat_rates(named & had, kind.pk)
        assert named & had
        assert all(rates["replace", component] > 0 for component in named & had)


@pytest.mark.usefixtures("catalogue")
def test_a_kinds_own_minutes_go_before_those_of_every_kind():
    load_reference(REFERENCE)
    assert flat_rates(["drive-belt"], "treadmill")["replace", "drive-belt"] == 40
    assert flat_rates(["drive-belt"], "elliptical")["replace", "drive-belt"] == 75
    assert flat_rates(["drive-belt"], "elliptical")["service", "drive-belt"] == 20


@pytest.mark.usefixtures("catalogue")
def test_the_database_holds_one_rate_for_every_kind_and_one_for_each():
    load_reference(REFERENCE)
    for kind in (None, "elliptical"):
        with pytest.raises(IntegrityError), transaction.atomic():
            FlatRate.objects.create(
                act="replace", component_id="drive-belt", kind_id=kind, minutes=1
            )


@pytest.mark.parametrize(
    ("table", "named"),
    [
        ("[usual]\nreplace = 45\n[minutes.replace]\nhyperdrive = 5\n", "hyperdrive"),
        ("[usual]\npolish = 45\n[minutes]\n", "polish"),
        ("[usual]\n[minutes]\n[kinds.boat.replace]\ndeck = 5\n", "boat: deck"),
    ],
)
def test_a_table_that_names_what_nobody_knows_is_refused_whole(tmp_path, table, named):
    ComponentFactory(slug="deck")
    (tmp_path / "flatrates.toml").write_text(table, encoding="utf-8")
    with pytest.raises(ValueError, match=named):
        load_reference(tmp_path)
    assert not FlatRate.objects.exists()
