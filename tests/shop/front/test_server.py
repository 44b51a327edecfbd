import socket

import pytest
from django.db import connection

from shop.front import server
from shop.front.server import ServerError


@pytest.fixture
def taken():
    """A port that another program listens on."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


@pytest.fixture
def listener():
    made = server.listening("127.0.0.1", 0)
    yield made
    made.stop()


def test_port_0_takes_a_free_port_and_names_it(listener):
    port = listener.bind_addr[1]
    assert port > 0
    assert server.addresses(listener, https=False) == [f"http://127.0.0.1:{port}/"]


def test_every_address_is_named_localhost_first(listener):
    listener.bind_addr = (server.EVERY_ADDRESS, 8443)
    found = server.addresses(listener, https=True)
    assert found[0] == "https://localhost:8443/"
    assert found[1:] == [f"https://{item}:8443/" for item in server.own_addresses()]


@pytest.mark.parametrize(
    ("port", "https", "address"),
    [(80, False, "http://127.0.0.1/"), (443, True, "https://127.0.0.1/")],
)
def test_the_usual_port_is_left_out(listener, port, https, address):
    listener.bind_addr = ("127.0.0.1", port)
    assert server.addresses(listener, https) == [address]


def test_a_busy_port_is_refused_with_a_sentence(taken):
    with pytest.raises(ServerError, match=f"Port {taken} is in use by another program"):
        server.listening("127.0.0.1", taken)


def test_an_address_of_another_computer_is_refused_with_a_sentence():
    with pytest.raises(ServerError, match=r"cannot listen on 192\.0\.2\.200 port 0"):
        server.listening("192.0.2.200", 0)


@pytest.mark.parametrize("port", [-1, 65536])
def test_a_number_that_is_no_port_is_refused(port):
    with pytest.raises(ServerError, match="from 0 to 65535"):
        server.listening("127.0.0.1", port)


@pytest.mark.django_db
def test_a_migrated_database_is_served():
    server.require_migrated()


@pytest.mark.django_db
def test_a_database_that_misses_a_migration_is_refused():
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM django_migrations WHERE app = 'people'")
    with pytest.raises(ServerError, match=r"Run “python manage\.py migrate”"):
        server.require_migrated()
