import pytest

from tests.factories.units import PersonFactory


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


@pytest.fixture
def reader(client):
    """Somebody who may read and order nothing."""
    client.force_login(PersonFactory(seats=["accountant"]))
    return client
