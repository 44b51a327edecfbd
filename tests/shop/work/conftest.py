import pytest

from shop.work.models import FlatRate
from tests.factories.units import ComponentFactory, PersonFactory
from tests.shop.work import bench


@pytest.fixture
def technician(db):
    return PersonFactory(first_name="Kim", last_name="Hale", seats=["technician"])


@pytest.fixture
def owner(db):
    return PersonFactory(first_name="Ola", last_name="Reed", seats=["owner"])


@pytest.fixture
def clerk(db):
    return PersonFactory(first_name="Sam", last_name="Lind", seats=["front desk"])


@pytest.fixture
def rules(db):
    bench.shop_rules()
    for act, slug, minutes in [
        ("replace", "running-belt", 60),
        ("replace", "deck", 75),
        ("service", "deck", 30),
        ("diagnose", "fan", 30),
    ]:
        FlatRate.objects.create(act=act, component=ComponentFactory(slug=slug), minutes=minutes)
