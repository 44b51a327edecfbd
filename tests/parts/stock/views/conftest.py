import pytest

from tests.factories.units import PersonFactory


@pytest.fixture
def bench(client):
    client.force_login(PersonFactory(seats=["technician"]))
    return client


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


@pytest.fixture
def reader(client):
    """Somebody who may look at the shelf and change nothing there."""
    client.force_login(PersonFactory(seats=["accountant"]))
    return client
