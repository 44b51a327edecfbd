import pytest

from tests.factories.pictures import picture, upload
from tests.units.plates import obedient_reader
from units.plates.services.reading_child import reader_child


@pytest.fixture
def own_storage(settings, tmp_path):
    """A place for files of this test alone."""
    default = settings.STORAGES["default"] | {"OPTIONS": {"location": tmp_path / "files"}}
    settings.STORAGES = settings.STORAGES | {"default": default}
    return tmp_path / "files"


@pytest.fixture
def photo():
    """``photo(order)``: an upload whose height is an order to the obedient reader."""

    def make(order=obedient_reader.READ, name="plate.jpg", width=160):
        return upload(picture("PNG", (width, order)), name=name, kind="image/png")

    return make


@pytest.fixture
def obedient(settings):
    """The reader of this process is the obedient one, and is gone after the test."""
    settings.PLATE_READER = obedient_reader.__name__
    settings.PLATE_SECONDS = 20
    reader_child.cache_clear()
    yield reader_child()
    reader_child().close()
    reader_child.cache_clear()
