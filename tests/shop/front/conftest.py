import pytest

from tests.factories.units import PersonFactory


@pytest.fixture
def sit(client):
    """``sit("owner")``: the client, signed in as a person who holds these seats."""

    def signed_in(*seats):
        client.force_login(PersonFactory(seats=seats))
        return client

    return signed_in
