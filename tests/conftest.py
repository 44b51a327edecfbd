"""Ground that every test stands on; the fixtures of real databases start nothing unless asked."""

import os
from contextlib import ExitStack

import pytest
from django.core.cache import cache
from hypothesis import settings

from tests import throwaway_postgres
from tests.ground import PostgresTemplate, RealDatabase, SqliteTemplate

DEMO_DAY = "2026-10-31"

# The same examples on every run; ``--hypothesis-profile=thorough`` looks for new ones.
settings.register_profile("steady", deadline=None, derandomize=True, max_examples=60)
settings.register_profile("thorough", deadline=None, max_examples=400)
settings.load_profile("steady")


@pytest.fixture(autouse=True)
def _nothing_kept():
    """What one test's rows taught is no knowledge of the next one's."""
    cache.clear()


def given_server() -> str:
    """The PostgreSQL server that the run was given by ``DATABASE_URL``, or none."""
    url = os.environ.get("DATABASE_URL", "")
    return url if url.startswith("postgres") else ""


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory):
    return SqliteTemplate(tmp_path_factory.mktemp("sqlite") / "template")


@pytest.fixture(scope="session")
def postgres_server():
    if given_server():
        yield given_server()
        return
    with ExitStack() as stack:
        try:
            url = stack.enter_context(throwaway_postgres.running())
        except throwaway_postgres.NoServerError as missing:
            pytest.skip(f"needs a PostgreSQL server: {missing}")
        yield url


@pytest.fixture(scope="session")
def postgres_template(tmp_path_factory, postgres_server):
    template = PostgresTemplate(tmp_path_factory.mktemp("postgres") / "template", postgres_server)
    yield template
    template.drop_all()


@pytest.fixture(scope="session")
def template(request):
    """A migrated database with the reference data, on the engine that this run is for."""
    return request.getfixturevalue("postgres_template" if given_server() else "sqlite_template")


def tell_demo(database: RealDatabase) -> str:
    return database.manage("demo", "--noserve", "--on", DEMO_DAY)


@pytest.fixture(scope="session")
def demo_template(tmp_path_factory):
    """The invented shop, told once a session; ``said`` is what the command printed."""
    folder = tmp_path_factory.mktemp("demo") / "template"
    if not given_server():
        yield SqliteTemplate(folder, tell_demo)
        return
    made = PostgresTemplate(folder, given_server(), tell_demo)
    yield made
    made.drop_all()
