"""Writing to the catalogue: makers, models, machines, their pictures and the reference data."""

from units.catalogue.domain.keys import SerialError
from units.catalogue.services.errors import CatalogueError
from units.catalogue.services.models import (
    ModelFacts,
    find_or_add_maker,
    find_or_add_model,
    merge_model,
    save_model,
)
from units.catalogue.services.reference import load_reference
from units.catalogue.services.units import (
    OtherMachineError,
    add_photo,
    add_photos,
    correct_identity,
    find_or_add_unit,
    tidy_serial,
)

__all__ = [
    "CatalogueError",
    "ModelFacts",
    "OtherMachineError",
    "SerialError",
    "add_photo",
    "add_photos",
    "correct_identity",
    "find_or_add_maker",
    "find_or_add_model",
    "find_or_add_unit",
    "load_reference",
    "merge_model",
    "save_model",
    "tidy_serial",
]
