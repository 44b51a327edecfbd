import uuid

import pytest

from tests.factories.pictures import pdf, upload
from tests.factories.units import (
    MORNING,
    ComponentFactory,
    KindComponentFactory,
    MachineModelFactory,
    PersonFactory,
)
from units.binder.services import add_file, record_error_code, write_note


@pytest.fixture(autouse=True)
def own_storage(settings, tmp_path):
    default = settings.STORAGES["default"] | {"OPTIONS": {"location": tmp_path}}
    settings.STORAGES = settings.STORAGES | {"default": default}


@pytest.fixture
def person(db):
    return PersonFactory(first_name="Kim", last_name="Hale", seats=["technician"])


@pytest.fixture
def model(db):
    model = MachineModelFactory(number="TR-90")
    for position, slug in enumerate(["speed-sensor", "motor-control-board"], start=1):
        component = ComponentFactory(slug=slug)
        KindComponentFactory(kind=model.kind, component=component, position=position)
    return model


@pytest.fixture
def write(model, person):
    """Writes into the binder of the model: ``write.note(...)``, ``write.code``, ``write.paper``."""

    class Writing:
        words = {"by": person, "at": MORNING}

        def note(self, text="The hood screws are soft.", **other):
            words = {"model": model, "key": uuid.uuid4()} | self.words | other
            return write_note(text=text, **words)

        def code(self, code="E1", **other):
            words = {"model": model, "meaning": "no pulses from the sensor", "source": "bench"}
            return record_error_code(code=code, **words | self.words | other)

        def paper(self, content=None, **other):
            words = {"model": model, "shows": "manual", "title": "Service manual, 2019"}
            sent = upload(pdf() if content is None else content, name="manual.pdf")
            return add_file(upload=sent, **words | self.words | other)

    return Writing()
