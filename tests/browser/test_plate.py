"""Plates on real screens, the reader's part played: nothing typed is lost, one tap confirms."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.plates import on_plates, photo_bytes
from tests.browser.walking import Walker

one_width = pytest.mark.one_width


@pytest.fixture
def walker(shop, page, axe):
    on_plates(shop, "known_model()")
    return Walker(shop, page, axe)


@pytest.fixture
def plate(tmp_path):
    path = tmp_path / "plate.jpg"
    path.write_bytes(photo_bytes())
    return path


def main(walker):
    return walker.page.locator("main")


def field(walker, name):
    return walker.page.locator(f"main [name={name}]")


def open_intake(walker, plate) -> None:
    walker.sit("front desk")
    walker.go("jobs/log-in/")
    walker.photo("plate_photo", plate)
    expect(main(walker)).to_contain_text("Reading the plate")


@one_width
def test_a_photo_is_read_while_one_looks_on_and_confirmed_by_keyboard_alone(walker, shop, plate):
    walker.sit("front desk")
    walker.go("plates/")
    walker.photo("photo", plate)
    walker.press("Read it")
    walker.reads("Reading the plate … usually 3 seconds.", "Type it by hand")
    on_plates(shop, "read('sure')")
    take = walker.page.get_by_role("button", name="Take this")
    expect(take).to_be_focused()
    walker.look()
    walker.page.keyboard.press("Enter")
    walker.page.wait_for_url(re.compile("/machines/"))
    walker.look()
    walker.reads("The plate of Corvane TM-9 CV100 is recorded.")


OUTCOMES = {
    "sure": ["sure", "Take this"],
    "look": ["please look", "CV1OO", "likely", "Take what I chose"],
    "type": ["type it", "Read as “CV3”", "Take what I typed"],
    "two": ["2 plates in the picture"],
    "blank": ["No plate was found in this photo. Take it again: nearer"],
    "unread": ["It took longer than a photo may take.", "Read it again"],
}


def test_every_outcome_says_what_to_do(walker, shop):
    serials = {outcome: f"CV{number}" for number, outcome in enumerate(OUTCOMES, 1)}
    readings = on_plates(shop, f"all_read({serials!r})").split()
    walker.sit("technician")
    for reading, words in zip(readings, OUTCOMES.values(), strict=True):
        walker.go(f"plates/{reading}/")
        walker.reads(*words)
    walker.go("plates/")
    walker.reads("sure", "please look", "type it", "not read")


@one_width
def test_a_candidate_is_chosen_by_keyboard_alone_or_something_else_is_typed(walker, shop):
    readings = on_plates(shop, "all_read({'look': 'CV100', 'type': 'CV200'})").split()
    walker.sit("technician")
    walker.go(f"plates/{readings[0]}/")
    walker.fill(serial_other="CV-555")
    expect(walker.page.locator("[name=serial][value='-']")).to_be_checked()
    walker.fill(serial_other="")
    walker.page.locator("[name=serial][value='-']").evaluate("radio => radio.checked = false")
    walker.press("Take what I chose")
    walker.reads("Choose what the plate says, or type it.")
    expect(walker.page.locator("[name=serial]").first).to_be_focused()
    walker.page.keyboard.press("Space")
    walker.page.keyboard.press("ArrowDown")
    walker.page.keyboard.press("Enter")
    walker.page.wait_for_url(re.compile("/machines/"))
    walker.reads("CV1OO")
    walker.go(f"plates/{readings[1]}/")
    walker.fill(number="TM-9", serial="CV-555")
    walker.press("Take what I typed")
    walker.reads("The plate of Corvane TM-9 CV-555 is recorded.")


@one_width
def test_what_is_typed_while_the_reader_is_slow_survives_the_result(walker, shop):
    reading = on_plates(shop, "sent()")
    walker.sit("front desk")
    walker.go(f"plates/{reading}/")
    walker.page.get_by_text("Type it by hand").click()
    by_hand = walker.page.locator("#hand_serial")
    by_hand.fill("CV42")
    on_plates(shop, "slow()")
    expect(main(walker)).to_contain_text("It takes longer than usual.")
    walker.axe(walker.page)
    on_plates(shop, "read('sure')")
    expect(walker.page.get_by_role("button", name="Take this")).to_be_visible()
    expect(by_hand).to_have_value("CV42")
    expect(by_hand).to_be_focused()


def test_a_form_is_filled_where_it_is_empty_and_logged_in_with_its_photo(walker, shop, plate):
    open_intake(walker, plate)
    walker.fill(complaint="Slows down.")
    walker.look()
    on_plates(shop, "read('sure')")
    expect(field(walker, "serial")).to_have_value("CV100")
    expect(field(walker, "maker")).to_have_value("Corvane")
    expect(field(walker, "number")).to_have_value("TM-9")
    expect(field(walker, "complaint")).to_have_value("Slows down.")
    walker.look()
    walker.reads("What was empty is filled in.")
    walker.page.get_by_text("Somebody new").click()
    walker.fill(new_name="Ines Okafell", new_phone="202 555 0104")
    with walker.page.expect_request(re.compile("/jobs/log-in/$")) as sent:
        walker.press("Log it in")
    assert "JFIF" not in (sent.value.post_data_buffer or b"").decode("latin-1")
    walker.reads("J00001", "CV100")


@one_width
def test_what_was_typed_is_never_overwritten_and_the_difference_is_said(walker, shop, plate):
    open_intake(walker, plate)
    walker.fill(serial="cv 999", number="tm9")
    on_plates(shop, "read('sure')")
    expect(field(walker, "maker")).to_have_value("Corvane")
    walker.reads("Serial number: the plate reads CV100; you typed cv 999.")
    assert "Model number: the plate reads" not in main(walker).inner_text()
    walker.press("Take these")
    expect(field(walker, "serial")).to_have_value("cv 999")
    expect(field(walker, "number")).to_have_value("tm9")
    field(walker, "serial").fill("CV-100")
    expect(walker.page.locator("[data-differs=serial]")).to_be_hidden()


@one_width
def test_a_doubtful_serial_is_offered_and_filled_only_when_it_is_picked(walker, shop, plate):
    open_intake(walker, plate)
    on_plates(shop, "read('look')")
    walker.page.get_by_role("button", name="Take these").wait_for()
    expect(field(walker, "maker")).to_have_value("")
    walker.press("Take these")
    expect(field(walker, "maker")).to_have_value("Corvane")
    expect(field(walker, "serial")).to_have_value("")
    walker.page.get_by_role("button", name=re.compile("CV1OO")).click()
    expect(field(walker, "serial")).to_have_value("CV1OO")


@one_width
def test_a_form_that_comes_back_keeps_its_photo_until_it_is_left_out(walker, shop, plate):
    open_intake(walker, plate)
    on_plates(shop, "read('sure')")
    expect(field(walker, "serial")).to_have_value("CV100")
    walker.press("Log it in")
    walker.reads("Choose a customer below", "Take these")
    expect(field(walker, "reading")).not_to_have_value("")
    walker.press("Leave this photo out")
    expect(field(walker, "reading")).to_have_value("")
    assert field(walker, "plate_photo").evaluate("field => field.files.length") == 0
    expect(field(walker, "serial")).to_have_value("CV100")


@one_width
def test_what_is_no_picture_gets_its_sentence_at_once(walker, tmp_path):
    letter = tmp_path / "plate.jpg"
    letter.write_bytes(b"a letter")
    walker.sit("front desk")
    walker.go("jobs/log-in/")
    walker.photo("plate_photo", letter)
    expect(main(walker)).to_contain_text("“plate.jpg” is not a picture that we can keep")


def test_rows_of_a_walk_come_up_as_they_are_read_and_are_confirmed_one_after_another(walker, shop):
    walk = on_plates(shop, "a_walk(5)")
    walker.sit("owner")
    walker.go(f"plates/walks/{walk}/")
    walker.reads("0 of 5 done, 0 confirmed")
    for outcome in ("sure", "sure", "look"):
        on_plates(shop, f"read_next({outcome!r})")
    expect(main(walker)).to_contain_text("3 of 5 done")
    rows = walker.page.locator("#rows > li")
    expect(rows.nth(2)).to_contain_text("please look")
    walker.axe(walker.page)
    rows.nth(0).get_by_role("button", name="Take this").press("Enter")
    expect(rows.nth(0)).to_contain_text("confirmed")
    second = rows.nth(1).get_by_role("button", name="Take this")
    expect(second).to_be_focused()
    walker.page.keyboard.press("Enter")
    expect(rows.nth(1)).to_contain_text("confirmed")
    expect(rows.nth(2).get_by_role("link", name="Look")).to_be_focused()
    expect(main(walker)).to_contain_text("2 confirmed")
    assert walker.page.evaluate("document.querySelectorAll('#rows > li').length") == 5


@one_width
def test_photos_of_a_walk_are_sent_one_by_one_and_a_bad_one_can_be_tried_again(walker, tmp_path):
    paths = [tmp_path / f"photo{number}.jpg" for number in range(4)]
    for number, path in enumerate(paths):
        path.write_bytes(b"no picture" if number == 1 else photo_bytes(f"CV{number}"))
    walker.sit("owner")
    walker.go("plates/")
    walker.fill(place="The gym by the river")
    walker.press("Start a walk")
    walker.page.locator("main [name=photo]").set_input_files(paths)
    walker.page.get_by_role("button", name="Send these photos").click()
    expect(main(walker)).to_contain_text("0 of 3 done")
    expect(main(walker)).to_contain_text("“photo1.jpg” is not a picture")
    expect(walker.page.locator("#rows > li[id]")).to_have_count(3)
    walker.axe(walker.page)
    walker.page.get_by_role("button", name="Try again").click()
    expect(walker.page.get_by_role("button", name="Try again")).to_be_visible()
    walker.page.locator("main [name=photo]").set_input_files(paths[:1])
    walker.page.get_by_role("button", name="Send these photos").click()
    expect(main(walker)).to_contain_text("is here already.")
    expect(walker.page.locator("#rows > li[id]")).to_have_count(3)
