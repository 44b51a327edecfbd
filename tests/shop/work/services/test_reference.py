import pytest
from django.conf import settings

from shop.work.models import FlatRate
from shop.work.services import load_reference
from tests.factories.units import ComponentFactory
from units.catalogue.services import load_reference as load_catalogue

pytestmark = pytest.mark.django_db
REFERENCE = settings.BASE_DIR / "fixtures" / "reference"


def minutes(act, slug):
    return FlatRate.objects.get(act=act, component=slug).minutes


@pytest.fixture
def catalogue():
    load_catalogue(REFERENCE)


@pytest.mark.usefixtures("catalogue")
def test_every_component_has_its_minutes_for_every_kind_of_work():
    load_reference(REFERENCE)
    components = set(FlatRate.objects.values_list("component", flat=True))
    assert FlatRate.objects.count() == len(components) * len(FlatRate.Act.values)
    assert (minutes("replace", "deck"), minutes("replace", "steps")) == (75, 45)


@pytest.mark.usefixtures("catalogue")
def test_loading_twice_adds_nothing_and_keeps_what_the_shop_edited():
    load_reference(REFERENCE)
    FlatRate.objects.filter(act="replace", component="deck").update(minutes=99)
    assert load_reference(REFERENCE) == 0
    assert minutes("replace", "deck") == 99


@pytest.mark.parametrize(
    ("table", "named"),
    [
        ("[usual]\nreplace = 45\n[minutes.replace]\nhyperdrive = 5\n", "hyperdrive"),
        ("[usual]\npolish = 45\n[minutes]\n", "polish"),
    ],
)
def test_a_table_that_names_what_nobody_knows_is_refused_whole(tmp_path, table, named):
    ComponentFactory(slug="deck")
    (tmp_path / "flatrates.toml").write_text(table, encoding="utf-8")
    with pytest.raises(ValueError, match=named):
        load_reference(tmp_path)
    assert not FlatRate.objects.exists()
