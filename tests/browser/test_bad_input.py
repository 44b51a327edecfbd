"""What goes wrong at a real screen: each time a sentence, and the data stay as they were."""

import json
from contextlib import contextmanager
from difflib import unified_diff

import pytest
from PIL import Image

from tests.browser.conftest import PASSWORDS
from tests.browser.states import CUSTOMER, PART, SERIAL, states
from tests.browser.walking import Walker

# Signing in writes a moment, sessions come and go: not the shop's data.
EVERY_ROW = """
from django.apps import apps
for model in apps.get_models():
    if model._meta.app_label not in {"auth", "axes", "sessions"}:
        for row in model.objects.order_by("pk").values_list():
            print(model._meta.label, *map(repr, row))
"""
# What goes wrong is what is asked here; the walks look at every page at both widths.
pytestmark = pytest.mark.one_width


@pytest.fixture
def walker(shop, page, axe):
    return Walker(shop, page, axe)


@pytest.fixture
def plate(tmp_path):
    path = tmp_path / "plate.jpg"
    Image.new("RGB", (640, 480), "#c9cdcb").save(path)
    return path


def everything(shop) -> list[str]:
    """Every row and every kept file of a shop, as lines."""
    rows = shop.database.python(EVERY_ROW).splitlines()
    folder = shop.database.home / "files"
    return rows + sorted(str(path) for path in folder.rglob("*") if path.is_file())


@contextmanager
def unchanged(shop):
    before = everything(shop)
    yield
    changes = list(unified_diff(before, everything(shop), "before", "after", n=0))
    assert not changes, "\n".join(changes[:40])


def rows_of(shop, label: str, *fields: str) -> list[list]:
    """The rows of a model, oldest first, as the lists of their fields' text."""
    return json.loads(
        shop.database.python(
            "import json\nfrom django.apps import apps\n"
            f"rows = apps.get_model({label!r}).objects.order_by('pk').values_list(*{fields!r})\n"
            "print(json.dumps([[str(value) for value in row] for row in rows]))"
        )
    )


def wrong(walker: Walker, name: str) -> str:
    """What the page says at a field; the page is one that was refused."""
    field = walker.page.locator(".field.wrong").filter(has=walker.page.locator(f"[name={name}]"))
    assert field.count() == 1, f"no sentence stands at {name}:\n{walker.page.inner_text('main')}"
    return field.inner_text()


def opened(walker: Walker, seat: str, path: str) -> None:
    """A page that the walks have judged already, so that only what comes of it is judged here."""
    walker.shop.sign_in(walker.page, seat)
    walker.page.goto(walker.shop.at(path))


def at_the_counter(walker: Walker, serial: str = SERIAL, phone: str = "202 555 0104") -> None:
    opened(walker, "front desk", "jobs/log-in/")
    walker.page.get_by_text("Somebody new").click()
    walker.fill(new_name=CUSTOMER, new_phone=phone)
    walker.fill(maker="Kestrow", number="R-40", serial=serial, kind="rower")
    walker.fill(complaint="The cord comes home slowly.")


def still_typed(walker: Walker, **typed: str) -> None:
    kept = {name: walker.page.locator(f"main [name={name}]").input_value() for name in typed}
    assert kept == typed


def test_a_file_that_is_no_picture_is_refused_at_its_field_and_the_typed_text_stays(
    shop, walker, tmp_path
):
    letter = tmp_path / "plate.jpg"
    letter.write_text("Dear shop, the plate reads KR26-00031.")
    at_the_counter(walker)
    walker.photo("plate_photo", letter)
    with unchanged(shop):
        walker.press("Log it in")
        assert "“plate.jpg” is not a picture that we can keep" in wrong(walker, "plate_photo")
    still_typed(walker, new_name=CUSTOMER, serial=SERIAL, complaint="The cord comes home slowly.")
    assert walker.page.locator("main [name=kind]").input_value() == "rower"


def test_a_huge_file_is_refused_at_its_field_and_the_typed_text_stays(shop, walker, tmp_path):
    huge = tmp_path / "huge.jpg"
    huge.write_bytes(b"\xff\xd8\xff\xe0" + b"\0" * 26_000_000)
    at_the_counter(walker)
    walker.photo("plate_photo", huge)
    with unchanged(shop):
        walker.press("Log it in")
        assert "“huge.jpg” has 27 MB; a picture may have 25 MB" in wrong(walker, "plate_photo")
    still_typed(walker, new_name=CUSTOMER, serial=SERIAL, complaint="The cord comes home slowly.")


def test_one_wrong_picture_among_several_is_named_and_none_is_kept(shop, walker, plate, tmp_path):
    letter = tmp_path / "letter.jpg"
    letter.write_text("not a picture")
    at_the_counter(walker)
    walker.page.locator("main [name=arrival_photos]").set_input_files([plate, letter])
    with unchanged(shop):
        walker.press("Log it in")
        assert "“letter.jpg” is not a picture" in wrong(walker, "arrival_photos")


def test_a_cut_off_picture_is_refused_after_all_else_was_right_and_nothing_is_kept(
    shop, walker, plate
):
    plate.write_bytes(plate.read_bytes()[:700])
    at_the_counter(walker)
    walker.photo("plate_photo", plate)
    with unchanged(shop):
        walker.press("Log it in")
        assert "“plate.jpg” is damaged or was cut off" in wrong(walker, "plate_photo")


def test_a_serial_of_spaces_is_refused_at_its_field(shop, walker):
    at_the_counter(walker, serial="   ")
    with unchanged(shop):
        walker.press("Log it in")
        said = "A serial number has letters or digits. Leave it empty if nobody can read it."
        assert said in wrong(walker, "serial")
    still_typed(walker, new_name=CUSTOMER, complaint="The cord comes home slowly.")


def test_a_telephone_number_of_letters_is_refused_at_its_field(shop, walker):
    at_the_counter(walker, phone="call me later")
    with unchanged(shop):
        walker.press("Log it in")
        assert "telephone number" in wrong(walker, "new_phone")
    still_typed(walker, new_phone="call me later", serial=SERIAL)


def test_the_second_tab_that_closes_a_job_is_told_by_whom_and_when(shop, walker, axe):
    states(shop, "job_to_close")
    opened(walker, "technician", "jobs/J00001/close/")
    other = Walker(shop, walker.page.context.new_page(), axe)
    other.go("jobs/J00001/close/")
    for tab in (walker, other):
        tab.choose("outcome", "repaired")
    walker.press("Close the job")
    walker.reads("Job J00001 is closed: repaired.")
    with unchanged(shop):
        other.press("Close the job")
        (when,) = rows_of(shop, "work.WorkOrder", "state_since")
        other.reads("Job J00001 is closed: technician", when[0][11:16], "Nothing was changed now.")


SEND_TWICE = """
async () => {
  const form = document.querySelector("main form[method=post]");
  const send = () => fetch(form.action, {method: "POST", body: new FormData(form)});
  const answers = await Promise.all([send(), send()]);
  return answers.map((answer) => [answer.status, answer.redirected, answer.url]);
}
"""


def send_twice(walker: Walker, _name: str) -> None:
    """Two requests of one form at the same time, where nothing in the page holds one back."""
    first, second = walker.page.evaluate(SEND_TWICE)
    assert first == second
    status, redirected, address = first
    assert (status, redirected) == (200, True)
    walker.go(address.removeprefix(walker.shop.address))


def double_click(walker: Walker, name: str) -> None:
    sent = []
    walker.page.on("request", lambda one: sent.append(one.method) if one.method == "POST" else 0)
    before = walker.page.url
    walker.page.get_by_role("main").get_by_role("button", name=name).dblclick()
    walker.page.wait_for_url(lambda url: url != before)
    walker.look()
    assert len(sent) == 1


twice = pytest.mark.parametrize("press", [double_click, send_twice])


@twice
def test_a_double_clicked_intake_is_one_job(shop, walker, plate, press):
    at_the_counter(walker)
    walker.photo("plate_photo", plate)
    press(walker, "Log it in")
    walker.reads("J00001", CUSTOMER)
    assert rows_of(shop, "work.WorkOrder", "number") == [["J00001"]]
    assert len(rows_of(shop, "people.Customer", "pk")) == 1
    assert len(rows_of(shop, "plates.PlateRecord", "pk")) == 1


@twice
def test_a_double_clicked_part_leaves_the_shelf_once(shop, walker, press):
    states(shop, "job_in_work")
    opened(walker, "technician", "jobs/J00001/parts/")
    press(walker, "Take it off the shelf")
    walker.reads("J00001", PART)
    moves = rows_of(shop, "stock.StockMove", "reason", "quantity")
    assert moves == [["received", "3.000"], ["used", "-1.000"]]


@twice
def test_a_double_clicked_payment_is_taken_once(shop, walker, press):
    states(shop, "invoice_open")
    opened(walker, "front desk", "invoices/R00001/pay/")
    walker.fill(amount="80")
    walker.choose("method", "cash")
    press(walker, "Take the payment")
    walker.reads("P00001")
    assert rows_of(shop, "till.Payment", "number", "amount") == [["P00001", "80.00"]]


def test_going_back_and_sending_an_intake_again_is_the_same_job(shop, walker):
    at_the_counter(walker)
    walker.press("Log it in")
    walker.reads("J00001")
    with unchanged(shop):
        walker.page.go_back()
        still_typed(walker, new_name=CUSTOMER, number="R-40", serial=SERIAL, kind="rower")
        walker.press("Log it in")
        walker.reads("J00001", CUSTOMER, "This form was sent before")


def test_going_back_and_sending_a_payment_again_takes_it_once(shop, walker):
    states(shop, "invoice_open")
    opened(walker, "front desk", "invoices/R00001/pay/")
    walker.fill(amount="80")
    walker.choose("method", "cash")
    walker.press("Take the payment")
    with unchanged(shop):
        walker.page.go_back()
        still_typed(walker, amount="80")
        walker.press("Take the payment")
        walker.reads("P00001", "This form was sent before")


OTHER_SEATS = [
    ("technician", "periods/", "owner, accountant"),
    ("technician", "jobs/log-in/", "front desk, owner"),
    ("front desk", "rates/", "owner, accountant"),
    ("accountant", "parts/add/", "technician, owner"),
]


@pytest.mark.parametrize(("seat", "path", "seats"), OTHER_SEATS)
def test_a_link_to_another_seat_s_page_names_the_seats_that_may(shop, walker, seat, path, seats):
    shop.sign_in(walker.page, seat)
    with unchanged(shop):
        walker.go(path)
        walker.reads("This page belongs to another seat", f"It opens for: {seats}.")
    walker.press("Back to what is next")
    assert walker.here == ""


def test_a_session_that_ends_in_the_middle_of_a_form_loses_nothing(shop, walker):
    at_the_counter(walker, serial="")
    walker.page.context.clear_cookies(name="sessionid")
    with unchanged(shop):
        # What the page asks for by itself meanwhile leaves the form alone.
        walker.fill(serial=SERIAL)
        walker.page.locator("main [name=complaint]").focus()
        walker.page.locator("#history .note.warning").wait_for()
        walker.reads("What you typed is still here")
        walker.press("Log it in")
        walker.reads("signed out", "Nothing was saved")
    sign_in_here(walker, "front desk")
    assert walker.here == "jobs/log-in/"
    still_typed(walker, new_name=CUSTOMER, serial=SERIAL, complaint="The cord comes home slowly.")
    walker.press("Log it in")
    walker.reads("J00001", CUSTOMER)


def sign_in_here(walker: Walker, seat: str) -> None:
    walker.fill(username=seat.replace(" ", "-"), password=PASSWORDS[seat])
    walker.press("Sign in")


def test_a_form_older_than_the_last_sign_in_is_refused_and_sent_again_after_going_back(
    shop, walker, axe
):
    at_the_counter(walker)
    other = Walker(shop, walker.page.context.new_page(), axe)
    shop.sign_in(other.page, "front desk")
    with unchanged(shop):
        walker.press("Log it in")
        walker.reads("This form was too old to be taken", "Nothing was saved")
    walker.page.go_back()
    still_typed(walker, new_name=CUSTOMER, number="R-40", serial=SERIAL, kind="rower")
    walker.press("Log it in")
    walker.reads("Job J00001 is logged in.", CUSTOMER)
