"""A photo of a drawn plate, the real server, the real worker, the real reader, a real browser."""

import re
from threading import Thread

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Shop, first_address
from tests.browser.plates import on_plates
from tests.browser.walking import Walker
from tests.platemaker import make_photo

SEED = 88_000_010
FIRST_READING = 90_000  # milliseconds: the networks are loaded, and other tests run beside this one


@pytest.fixture
def shop(browser, peopled, tmp_path):
    database = peopled(tmp_path / "home")
    with database.start("manage.py", "serve", "--port", "0") as server:
        served = Shop(database, first_address(server))
        reader = Thread(target=served.said.extend, args=(server.stdout,))
        reader.start()
        yield served
        server.terminate()
        reader.join(timeout=20)
    assert "Traceback" not in "".join(served.said)


@pytest.fixture
def walker(shop, page, axe, photo):
    _path, truth = photo
    on_plates(shop, f"known_model({truth.maker!r}, {truth.model!r})")
    return Walker(shop, page, axe)


@pytest.fixture
def photo(tmp_path):
    made = make_photo(seed=SEED, tier="easy", families="tune")
    path = tmp_path / "plate.jpg"
    path.write_bytes(made.jpeg)
    return path, made.truth


@pytest.mark.one_width
def test_a_photo_becomes_a_machine(walker, photo):
    path, truth = photo
    walker.sit("front desk")
    walker.go("plates/")
    walker.photo("photo", path)
    walker.press("Read it")
    main = walker.page.locator("main")
    expect(main).to_contain_text(truth.serial, timeout=FIRST_READING)
    walker.look()

    # The shop has met the model but never this maker's serials: sure of it or not, one may take it.
    take = main.get_by_role("button", name=re.compile("^Take"))
    doubtful = main.get_by_role("radio", name=re.compile(re.escape(truth.serial)))
    if doubtful.count():
        doubtful.check()
    take.click()
    walker.page.wait_for_url(re.compile("/machines/"))
    expect(main).to_contain_text(truth.serial)
