"""The page that a technician opens daily, walked at both widths: written into and read again."""

import pytest

from tests.browser.walking import Walker
from tests.factories.pictures import pdf

A_MODEL = """
from units.catalogue.models import Kind
from units.catalogue.services import find_or_add_maker, find_or_add_model
maker = find_or_add_maker(name="Kestrow")
model = find_or_add_model(maker=maker, number="KT 22", kind=Kind.objects.get(slug="treadmill"))
print(model.pk)
"""


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


@pytest.fixture
def manual(tmp_path):
    path = tmp_path / "manual.pdf"
    path.write_bytes(pdf())
    return path


def test_a_binder_is_filled_and_read_on_the_models_page(shop, walker, manual):
    model = shop.database.python(A_MODEL).strip()
    walker.sit("technician")
    walker.go(f"models/{model}/")
    walker.reads("Nobody wrote down how it is entered", "shop default only")

    walker.press("Write a note")
    walker.fill(text="The hood screws are soft.")
    walker.page.get_by_label("Pin it on top").check()
    walker.press("Write it down")
    walker.press("Say how service mode is entered")
    walker.fill(text="Hold STOP and SPEED UP.")
    walker.press("Write it down")
    walker.press("Add an error code")
    walker.fill(code="E1", meaning="no pulses from the speed sensor")
    walker.press("Write it down")
    walker.reads("This field is required")
    walker.fill(source="the bench")
    walker.choose("components", "speed-sensor")
    walker.press("Write it down")
    walker.press("Add a paper")
    walker.choose("shows", "manual")
    walker.fill(title="Service manual")
    walker.photo("upload", manual)
    walker.press("Keep it")

    walker.reads(
        "The hood screws are soft.",
        "pinned",
        "Hold STOP and SPEED UP.",
        "no pulses from the speed sensor",
        "Service manual",
        "No job on this model was closed yet",
        "Can parts be had?",
    )
    with walker.page.expect_download() as saved:
        walker.page.get_by_role("link", name="Service manual").click()
    assert saved.value.suggested_filename == "manual.pdf"

    walker.press("Unpin")
    walker.reads("no longer on top")
    walker.page.get_by_role("link", name="It is wrong").first.click()
    walker.look()
    walker.fill(reason="another model")
    walker.press("Take it out")
    assert "soft" not in walker.page.locator("main").inner_text()
