import pytest
from django.conf import settings

from tests.factories.units import PersonFactory
from units.catalogue.services import load_reference as load_kinds
from units.inspections.services import load_reference

REFERENCE = settings.BASE_DIR / "fixtures" / "reference"


@pytest.fixture
def reference(db):
    """Kinds, components and protocols as the shop ships them."""
    load_kinds(REFERENCE)
    load_reference(REFERENCE)


@pytest.fixture
def technician(db):
    return PersonFactory(seats=["technician"])
