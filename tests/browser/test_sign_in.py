"""The door: who comes in, what a wrong password says, and when the tries are over."""

import pytest

from tests.browser.conftest import PASSWORDS


def no_sideways_scroll(page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_the_door_itself_is_accessible_and_fits_the_width(shop, page, axe):
    page.goto(shop.at("/"))
    assert page.url.startswith(shop.at("sign-in/"))
    axe(page)
    assert no_sideways_scroll(page)


@pytest.mark.parametrize("seat", PASSWORDS)
def test_every_seat_signs_in_to_its_own_accessible_opening_page(shop, page, axe, seat):
    shop.sign_in(page, seat)
    assert page.url == shop.at("/")
    assert page.locator("h1").count() == 1
    axe(page)
    assert no_sideways_scroll(page)


def test_a_wrong_password_gets_a_sentence_and_leaves_nobody_signed_in(shop, page, axe):
    shop.sign_in(page, "owner", password="not-the-password")
    assert "password" in page.locator("main [role=alert]").inner_text()
    axe(page)
    page.goto(shop.at("/"))
    assert page.url.startswith(shop.at("sign-in/"))


def test_after_six_wrong_passwords_the_right_one_waits_as_well(shop, page, axe):
    for _ in range(6):
        shop.sign_in(page, "owner", password="not-the-password")
    shop.sign_in(page, "owner")
    assert page.locator("h1").inner_text() == "Too many wrong passwords"
    axe(page)


def test_a_page_asked_for_before_signing_in_opens_afterwards(shop, page):
    page.goto(shop.at("help/"))
    page.locator("[name=username]").fill("technician")
    page.locator("[name=password]").fill(PASSWORDS["technician"])
    page.locator("main button.main").click()
    page.wait_for_url(shop.at("help/"))
