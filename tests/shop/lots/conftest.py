import pytest


@pytest.fixture
def own_storage(settings, tmp_path):
    """A place for files of this test alone."""
    default = settings.STORAGES["default"] | {"OPTIONS": {"location": tmp_path / "files"}}
    settings.STORAGES = settings.STORAGES | {"default": default}
    return tmp_path / "files"
