"""An inspection on a phone in a basement: the network goes, the browser dies, the session ends, and
what was answered comes to the shop once, as it was entered."""

import json
import time

import pytest
from PIL import Image

from tests.browser.phones import Phone, Server
from tests.browser.states import states

HELD = """
import json
from units.inspections.models import Inspection, OutboxEntry, StepResult
rows = StepResult.objects.order_by("step__position").select_related("step", "recorded_by")
print(json.dumps({
    "answers": {row.step.position: row.condition for row in rows},
    "values": {row.step.position: str(row.value) for row in rows if row.value is not None},
    "notes": {row.step.position: row.note for row in rows if row.note},
    "reasons": {row.step.position: row.reason for row in rows if row.reason},
    "photos": [row.step.position for row in rows if row.photo_id],
    "people": sorted({row.recorded_by.username for row in rows}),
    "results": rows.count(),
    "entries": OutboxEntry.objects.count(),
    "keys": OutboxEntry.objects.values("client_key").distinct().count(),
    "finished": Inspection.objects.get().is_finished,
}))
"""
OPEN = """
from tests.browser import states
from shop.work.models import WorkOrder
from shop.work.services import inspect_job
print(inspect_job(job=WorkOrder.objects.get(), occasion="arrival", **states.act("technician")).pk)
"""
END_SESSIONS = "from django.contrib.sessions.models import Session\nSession.objects.all().delete()"
FINISH = """
from tests.browser import states
from units.inspections.models import Inspection
states.inspected(Inspection.objects.get())
"""


@pytest.fixture
def server(browser, peopled, tmp_path):
    # The browser's fixture comes first: its loop keeps Django's database access here shut.
    served = Server(peopled(tmp_path / "home"))
    states(served, "rates", "job_logged")
    served.start()
    yield served
    served.stop()
    assert "Traceback" not in "".join(served.said), "".join(served.said)


@pytest.fixture
def phone(browser, server, tmp_path):
    made = Phone(browser.browser_type, tmp_path / "profile", server)
    made.open()
    yield made
    made.context.close()
    assert made.complaints == []


@pytest.fixture
def picture(tmp_path):
    path = tmp_path / "chain.jpg"
    Image.new("RGB", (640, 480), "#6b7f86").save(path)
    return path


def held(server) -> dict:
    said = json.loads(server.database.python(HELD))
    for word in ("answers", "values", "notes", "reasons"):
        said[word] = {int(position): value for position, value in said[word].items()}
    return said


def open_inspection(phone, seat="technician") -> str:
    """The path of a rower's first step, opened by a technician and kept on the phone."""
    path = f"inspections/{phone.server.database.python(OPEN).strip()}/steps/1/"
    phone.go(path)
    phone.sign_in(seat)
    phone.reads("kept on this phone")
    return path


def wait_until_sent(phone, seconds=60) -> None:
    """The outbox is hidden too before its script has looked, so its entries are counted."""
    last = time.monotonic() + seconds
    while phone.waiting and time.monotonic() < last:
        phone.page.wait_for_timeout(200)
    assert phone.waiting == 0
    phone.page.locator("#outbox").wait_for(state="hidden")


def test_an_inspection_survives_two_cuts_a_kill_and_a_sign_out(phone, server, picture):
    path = open_inspection(phone)
    entered = phone.first() | phone.first() | phone.first()
    wait_until_sent(phone)
    assert held(server)["answers"] == entered

    assert list(entered) == [1, 2, 3]

    # The first cut: the server is gone.
    server.stop()
    phone.screen.locator("summary").first.click()
    phone.screen.get_by_role("button", name="customer knows of it").click()
    phone.screen.get_by_role("button", name="comes and goes").click()
    phone.screen.locator("[name=photo]").set_input_files(picture)
    entered |= phone.first()
    entered |= phone.first()
    phone.reads("The shop cannot be reached now")
    assert phone.waiting == 2

    # The browser is killed and opened again, with the server still gone.
    phone.kill()
    phone.open()
    phone.go(path.replace("steps/1/", "steps/6/"))
    phone.reads("Step 6 of", "this page stands as it was kept", "kept on this phone")
    assert phone.screen.locator("[data-recorded]").inner_text() == "5"
    entered |= phone.first()
    assert phone.waiting == 3
    server.start()
    # A browser that dies may lose the newest cookies with its session; then it asks to sign in.
    phone.go(path)
    if "/sign-in/" in phone.page.url:
        phone.sign_in("technician")
    phone.go(path.replace("steps/1/", "steps/7/"))
    wait_until_sent(phone)
    assert held(server)["answers"] == entered

    # The second cut: the phone itself has no network.
    phone.context.set_offline(True)
    phone.screen.locator("[data-impossible] summary").click()
    phone.answered(phone.screen.get_by_role("button", name="no tool for it at hand").click)
    entered[7] = "not-possible"
    phone.page.go_back()
    phone.reads("Step 7 of")
    phone.page.go_forward()
    entered |= phone.first()
    assert phone.waiting == 2
    phone.context.set_offline(False)
    wait_until_sent(phone)

    # In the middle the session ends; what is answered then waits for its person.
    server.database.python(END_SESSIONS)
    entered |= phone.first()
    phone.reads("You were signed out")
    assert phone.waiting == 1
    assert 9 not in held(server)["answers"]
    phone.page.get_by_role("link", name="sign in, then they are sent").click()
    phone.sign_in("technician")
    wait_until_sent(phone)

    while "#end" not in phone.page.url:
        entered |= phone.first()
    phone.page.get_by_role("button", name="Finish the inspection").click()
    phone.page.wait_for_url(lambda url: "/steps/" not in url)
    came = held(server)
    assert came["finished"]
    assert came["answers"] == entered
    assert came["notes"] == {4: "customer knows of it; comes and goes"}
    assert came["reasons"] == {7: "no tool for it at hand"}
    assert came["photos"] == [4]
    assert came["people"] == ["technician"]
    assert came["results"] == len(entered)
    assert came["entries"] == came["keys"] == len(entered) + 1


def test_an_inspection_finished_without_a_signal_is_finished_when_there_is_one(phone, server):
    open_inspection(phone)
    server.stop()
    entered = {}
    while "#end" not in phone.page.url:
        entered |= phone.first()
    phone.page.get_by_role("button", name="Finish the inspection").click()
    phone.reads("You finished it on this phone")
    assert phone.waiting == len(entered) + 1
    server.start()
    phone.page.wait_for_url(lambda url: "/steps/" not in url)
    came = held(server)
    assert (came["finished"], came["answers"]) == (True, entered)


def test_an_answer_whose_acknowledgement_is_lost_is_sent_again_and_written_once(phone, server):
    open_inspection(phone)

    def lose(route):
        route.fetch()
        route.abort()

    phone.page.route("**/inspections/outbox/", lose)
    entered = phone.first()
    phone.reads("The shop cannot be reached now")
    came = held(server)
    assert (came["answers"], came["entries"]) == (entered, 1)
    assert phone.waiting == 1
    phone.page.unroute("**/inspections/outbox/")
    wait_until_sent(phone)
    came = held(server)
    assert (came["answers"], came["entries"]) == (entered, 1)


def test_another_person_on_the_same_phone_sends_nothing_of_it_as_theirs(phone, server):
    path = open_inspection(phone)
    phone.page.route("**/inspections/outbox/", lambda route: route.abort())
    entered = phone.first()
    phone.page.get_by_role("button", name="Change person").click()
    phone.page.wait_for_url(lambda url: "/sign-in/" in url)
    phone.page.unroute("**/inspections/outbox/")
    assert not phone.page.evaluate("caches.has('pages')")

    phone.sign_in("owner")
    phone.reads("Answers of somebody else that wait here: 1 (technician)")
    phone.go(path)
    phone.reads("Answers of somebody else that wait here", "kept on this phone")
    assert phone.screen.locator("[aria-current]").count() == 0
    assert phone.screen.locator("[data-recorded]").inner_text() == "0"
    assert held(server)["answers"] == {}
    assert phone.waiting == 1

    phone.page.get_by_role("button", name="Change person").click()
    phone.page.wait_for_url(lambda url: "/sign-in/" in url)
    phone.sign_in("technician")
    wait_until_sent(phone)
    came = held(server)
    assert (came["answers"], came["people"]) == (entered, ["technician"])


def test_a_refused_answer_is_shown_and_leaves_only_by_the_person_s_decision(
    phone, server, tmp_path
):
    path = open_inspection(phone)
    wrong = tmp_path / "chain.jpg"
    wrong.write_bytes(b"MZ not a picture")
    phone.screen.locator("summary").first.click()
    phone.screen.locator("[name=photo]").set_input_files(wrong)
    phone.first()
    phone.reads("Not taken by the shop", "is not a picture that we can keep")
    assert (phone.waiting, held(server)["answers"]) == (1, {})

    # Mended by answering again.
    phone.page.get_by_role("link", name="Answer it again").click()
    phone.reads("Step 1 of")
    entered = phone.first()
    wait_until_sent(phone)
    assert held(server)["answers"] == entered

    # Too late: somebody finished it meanwhile. It stays until it is set aside, and even after.
    phone.context.set_offline(True)
    phone.first()
    server.database.python(FINISH)
    phone.context.set_offline(False)
    phone.reads("This inspection is finished")
    phone.go(path)
    phone.reads("Not taken by the shop", "This inspection is finished")
    phone.page.get_by_role("button", name="Set it aside").click()
    phone.reads("Set aside: 1")
    assert phone.waiting == 1


def test_the_pages_of_today_s_jobs_are_read_without_a_signal_until_somebody_else_signs_in(
    phone, server
):
    phone.go("")
    phone.sign_in("technician")
    phone.reads("The pages of today's jobs can be read without a signal")
    pages = phone.page.evaluate("fetch('/offline/today/').then(said => said.json())")["pages"]
    assert [page.split("/")[1] for page in pages] == ["jobs", "models", "machines"]
    server.stop()
    phone.go("jobs/J00001/")
    phone.reads("this page stands as it was kept", "The cord comes home slowly.")
    phone.go(pages[1].removeprefix("/"))
    phone.reads("this page stands as it was kept", "R-40", "Past fixes", "Parts that fit")
    phone.go("parts/")
    phone.reads("This page is not kept on this device")

    server.start()
    phone.go("")
    phone.page.get_by_role("button", name="Change person").click()
    phone.page.wait_for_url(lambda url: "/sign-in/" in url)
    phone.sign_in("accountant")
    server.stop()
    phone.go("jobs/J00001/")
    phone.reads("This page is not kept on this device")


def test_over_plain_http_the_page_says_that_work_without_a_signal_is_not_available(
    browser, server, tmp_path
):
    rules = "--host-resolver-rules=MAP desk.example 127.0.0.1"
    phone = Phone(browser.browser_type, tmp_path / "plain", server, rules)
    phone.open()
    server.host = "desk.example"
    path = f"inspections/{server.database.python(OPEN).strip()}/steps/1/"
    phone.go(path)
    phone.sign_in("technician")
    phone.reads("work without a signal is not available")
    # Each form goes to the shop directly; the conditions are still one tap.
    entered = phone.first()
    assert held(server)["answers"] == entered
    phone.context.close()
    assert phone.complaints == []


def test_from_the_job_to_a_proposed_estimate_takes_at_most_two_taps_a_step(phone, server):
    phone.go("jobs/J00001/")
    phone.sign_in("technician")
    taps, steps = 0, 0

    def tap(button):
        nonlocal taps
        taps += 1
        button.first.click()

    main = phone.page.locator("main")
    tap(main.get_by_role("button", name="Inspect"))
    phone.page.wait_for_url("**/steps/*/")
    while "#end" not in phone.page.url:
        before = phone.page.url
        dry = phone.screen.locator("[name=condition][value='dry']")
        if phone.screen.locator("[name=value]").count():
            phone.screen.locator("[name=value]").fill("6.5")
            tap(phone.screen.get_by_role("button", name="Save and go on"))
        else:
            tap(dry if dry.count() else phone.screen.locator("[name=condition]"))
        phone.page.wait_for_url(lambda url, before=before: url != before)
        steps += 1
    tap(phone.page.get_by_role("button", name="Finish the inspection"))
    phone.page.wait_for_url(lambda url: "/steps/" not in url)
    tap(main.get_by_role("link", name="J00001"))
    phone.page.wait_for_url("**/jobs/J00001/")
    tap(main.get_by_role("button", name="Make the estimate"))
    phone.reads("Offer this estimate")
    assert steps >= 10
    assert taps == steps + 4 <= 2 * steps


def test_an_answer_at_which_the_shop_fails_holds_up_no_other_and_is_not_lost(phone, server):
    open_inspection(phone)
    mark = b'name="step"\r\n\r\n1\r\n'

    def fail(route):
        broken = mark in (route.request.post_data_buffer or b"")
        route.fulfill(status=500, body="") if broken else route.fallback()

    phone.page.route("**/inspections/outbox/", fail)
    first, others = phone.first(), phone.first() | phone.first()
    phone.reads("The shop's computer has a fault and did not take them")
    for _try in range(50):
        if phone.waiting == 1:
            break
        phone.page.wait_for_timeout(100)
    assert phone.waiting == 1
    assert held(server)["answers"] == others
    phone.page.unroute("**/inspections/outbox/")
    wait_until_sent(phone)
    assert held(server)["answers"] == first | others


def test_a_photo_that_the_shop_would_not_take_is_refused_before_it_is_kept(phone, server, picture):
    open_inspection(phone)
    phone.screen.locator("summary").first.click()
    phone.screen.locator("[name=photo]").set_input_files(picture)
    phone.screen.locator("[name=photo]").evaluate("field => field.dataset.most = 10")
    phone.screen.locator("[name=condition]").first.click()
    phone.reads("This photo cannot be taken along")
    assert (phone.waiting, held(server)["answers"]) == (0, {})
    phone.screen.locator("[name=photo]").set_input_files([])
    entered = phone.first()
    wait_until_sent(phone)
    assert held(server)["answers"] == entered
