"""The shop's settings with a reader of plates that does what a photo orders, tightly bounded."""

import os

from shop.settings import *  # noqa: F403

PLATE_READER = "tests.units.plates.obedient_reader"
PLATE_SECONDS = int(os.environ.get("OBEDIENT_SECONDS", "4"))
PLATE_MEMORY = 200_000_000
