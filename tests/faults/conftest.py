import pytest


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def real_database(request, tmp_path):
    """A migrated database with the reference data, once on each engine (see ``tests.ground``)."""
    name = "postgres_template" if request.param == "postgresql" else "sqlite_template"
    return request.getfixturevalue(name).copy(tmp_path / "home")
