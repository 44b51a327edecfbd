from datetime import date
from pathlib import Path

import pytest
from django.utils import translation

from tests.ground import ROOT
from units.show.inputs import DayInput


@pytest.mark.parametrize("language", ["en", "en-gb", "de"])
def test_a_day_is_handed_to_the_browser_in_its_own_form(language):
    with translation.override(language):
        assert 'type="date" name="on" value="2026-10-05"' in DayInput().render(
            "on", date(2026, 10, 5)
        )


def test_every_form_asks_for_a_day_in_this_way():
    """Django's own widget writes the day as the language does, and the browser shows nothing."""
    others = [
        str(path.relative_to(ROOT))
        for house in ("shop", "parts", "units")
        for path in Path(ROOT / house).rglob("*.py")
        if "DateInput" in path.read_text() and path.name != "inputs.py"
    ]
    assert others == []
