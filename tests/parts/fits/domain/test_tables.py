from decimal import Decimal

import pytest

from parts.fits.domain.tables import FOLDER, table


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.toml")), ids=lambda path: path.stem)
def test_every_table_names_its_source_before_anything_else(path):
    head = path.read_text(encoding="utf-8").split("\n\n")[0]
    assert head.startswith("#")
    assert table(path.stem)


def test_figures_are_exact():
    assert table("belts")["sections"]["PJ"]["pitch_mm"] == Decimal("2.34")
