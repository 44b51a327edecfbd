"""Logging a machine in: the service and its screen."""

import re
import uuid
from datetime import timedelta
from decimal import Decimal
from io import BytesIO

import pytest
import zxingcpp
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from shop.floor.models import MachineCost, Stay
from shop.people.models import Customer
from shop.work.models import WorkOrder
from shop.work.services.errors import JobError
from shop.work.services.intake import Errand, Machine, Person, buy_machine, log_in, open_own_job
from tests.factories.plates import a_reading, said
from tests.factories.shop import CustomerFactory, StayFactory, WorkOrderFactory
from tests.factories.units import (
    MORNING,
    KindFactory,
    MachineModelFactory,
    PersonFactory,
    PlateRecordFactory,
    UnitFactory,
)
from units.catalogue.models import MachineModel, Unit
from units.files.models import StoredFile
from units.plates.models import PlateRecord
from units.plates.services import PlateError

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_files(settings, tmp_path):
    settings.STORAGES = settings.STORAGES | {
        "default": {
            "BACKEND": "django.core.files.storage.FileSystemStorage",
            "OPTIONS": {"location": tmp_path},
        }
    }
    return tmp_path


@pytest.fixture
def clerk():
    return PersonFactory(seats=["front desk"])


@pytest.fixture
def desk(client, clerk):
    client.force_login(clerk)
    return client


def picture(name="plate.jpg"):
    drawn = BytesIO()
    Image.new("RGB", (60, 40), "white").save(drawn, "JPEG")
    return SimpleUploadedFile(name, drawn.getvalue(), content_type="image/jpeg")


def a_machine(**other):
    said = {"maker": "Corvane", "number": "T-310", "serial": "CV26-00417", "kind": KindFactory()}
    return Machine(**said | other)


def logged(clerk, **other):
    said = {
        "person": Person(known=CustomerFactory()),
        "machine": a_machine(),
        "errand": Errand(complaint="Belt slips."),
        "key": uuid.uuid4(),
        "by": clerk,
        "at": MORNING,
    }
    return log_in(**said | other)


def drawn_from(svg: str) -> Image.Image:
    """The one path of a QR code's SVG (``M x y``, ``m dx dy``, ``h n``) as a picture."""
    picture = Image.new("L", (60, 60), 255)
    path = re.search(r'class="qrline"[^>]*d="([^"]+)"|d="([^"]+)" class="qrline"', svg)
    x = y = 0.0
    for word, numbers in re.findall(r"([Mmh])([-\d. ]+)", path[1] or path[2]):
        values = [float(value) for value in numbers.split()]
        if word == "h":
            for step in range(int(values[0])):
                picture.putpixel((int(x) + step, int(y)), 0)
            x += values[0]
        else:
            base = (0.0, 0.0) if word == "M" else (x, y)
            x, y = base[0] + values[0], base[1] + values[1]
    return picture.resize((480, 480), Image.Resampling.NEAREST)


def test_a_new_customer_with_an_unknown_model_becomes_one_job(clerk):
    job = logged(
        clerk,
        person=Person(name="Ines Okafell", phone="202 555 0104"),
        errand=Errand("Stops.", ["safety-key", "cord"], "scratched", Decimal("120.00")),
    )
    assert job.number == "J00001"
    assert job.owner.phone == "+12025550104"
    assert job.stay.owner == job.owner
    assert not job.unit.model.confirmed
    assert job.unit.model.kind_id == "treadmill"
    assert {thing.thing for thing in job.came_along.all()} == {"safety-key", "cord"}
    assert [step.to_state for step in job.steps.all()] == ["logged"]
    assert job.spend_limit == Decimal("120.00")


def test_the_same_key_twice_gives_the_first_job(clerk):
    key = uuid.uuid4()
    first = logged(clerk, key=key)
    assert logged(clerk, key=key) == first
    assert WorkOrder.objects.count() == 1


def test_the_same_serial_of_the_same_maker_stays_one_machine(clerk):
    owner = CustomerFactory()
    first = logged(clerk, person=Person(known=owner))
    first.state = "handed-back"
    first.save()
    second = logged(
        clerk, person=Person(known=owner), machine=a_machine(serial="cv26 00417"), at=MORNING
    )
    assert second.unit == first.unit
    assert Unit.objects.count() == 1


def test_a_second_job_on_a_machine_with_an_open_one_names_it(clerk):
    first = logged(clerk)
    with pytest.raises(JobError, match=first.number) as refusal:
        logged(clerk)
    assert refusal.value.job == first
    assert WorkOrder.objects.count() == 1


def test_a_machine_of_our_own_is_not_taken_in_as_a_customer_s(clerk):
    unit = UnitFactory(serial="CV1", serial_key="CV1")
    StayFactory(unit=unit, owner=None, came="purchase")
    with pytest.raises(JobError, match="own stock"):
        logged(clerk, machine=a_machine(number=unit.model.number, serial="CV1"))


def test_a_machine_that_stands_here_for_somebody_else_is_refused(clerk):
    unit = UnitFactory(serial="CV1", serial_key="CV1")
    stay = StayFactory(unit=unit)
    with pytest.raises(JobError, match=stay.owner.name):
        logged(clerk, machine=a_machine(number=unit.model.number, serial="CV1"))


def test_a_plate_photo_that_comes_along_is_read_for_the_record(clerk):
    job = logged(clerk, machine=a_machine(plate_photo=picture()))
    record = PlateRecord.objects.get(unit=job.unit)
    assert (record.reading.state, record.reading.photo) == ("waiting", record.photo)


def test_a_plate_photo_sent_beforehand_is_kept_with_what_was_changed(clerk):
    reading = a_reading(said("model", "T-310"), said("serial", "CV26-OO417"))
    job = logged(clerk, machine=a_machine(reading=reading))
    record = PlateRecord.objects.get(unit=job.unit)
    assert (record.reading, record.photo) == (reading, reading.photo)
    assert record.changed == {"serial": ["CV26-OO417", "CV26-00417"]}


def test_a_photo_confirmed_for_this_machine_before_is_no_hindrance(clerk):
    unit = UnitFactory(model=MachineModelFactory(number="T-310"), serial="CV9")
    reading = a_reading()
    PlateRecordFactory(unit=unit, reading=reading, photo=reading.photo)
    job = logged(clerk, machine=a_machine(serial="CV9", reading=reading))
    assert job.unit == unit
    assert unit.plates.count() == 1


def test_a_photo_confirmed_for_another_machine_is_refused_and_nothing_is_kept(clerk):
    reading = a_reading()
    PlateRecordFactory(reading=reading, photo=reading.photo)
    with pytest.raises(PlateError, match="confirmed already"):
        logged(clerk, machine=a_machine(reading=reading))
    assert not WorkOrder.objects.exists()
    assert PlateRecord.objects.count() == 1


@pytest.mark.parametrize("name", ["intake", "purchase-add"])
def test_a_form_that_comes_back_still_has_the_photo_sent_beforehand(desk, name):
    reading = a_reading()
    answer = desk.post(reverse(name), {"maker": "Corvane", "reading": reading.pk})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert f'name="reading" value="{reading.pk}"' in text
    assert reverse("plate-reading", args=[reading.pk]) in text


def test_a_machine_is_logged_in_with_the_photo_sent_beforehand(desk):
    reading = a_reading()
    desk.post(reverse("intake"), typed(reading=reading.pk))
    assert PlateRecord.objects.get().reading == reading


def test_a_machine_is_bought_with_the_photo_sent_beforehand(desk):
    reading = a_reading()
    desk.post(reverse("purchase-add"), typed(reading=reading.pk, price="50"))
    assert PlateRecord.objects.get().reading == reading


def test_a_plate_photo_is_kept_as_evidence(clerk):
    job = logged(clerk, machine=a_machine(plate_photo=picture(), arrival_photos=[picture()]))
    plate = PlateRecord.objects.get(unit=job.unit)
    assert (plate.maker_text, plate.model_text) == ("Corvane", "T-310")
    assert plate.photo.audience == "bench"
    assert [photo.document for photo in job.unit.photos.all()] == [job.number]


def test_a_serial_of_spaces_leaves_nothing_behind(clerk):
    with pytest.raises(ValueError, match="serial"):
        logged(clerk, machine=a_machine(serial="   "))
    assert not WorkOrder.objects.exists()
    assert not MachineModel.objects.exists()


def test_buying_a_machine_opens_its_stay_its_cost_and_its_first_job(clerk):
    stay = buy_machine(
        seller=Person(known=CustomerFactory()),
        machine=a_machine(),
        price=Decimal("150.00"),
        came_along=["safety-key"],
        key=uuid.uuid4(),
        by=clerk,
        at=MORNING,
    )
    assert (stay.owner, stay.came) == (None, "purchase")
    cost = MachineCost.objects.get(stay=stay)
    assert (cost.sort, cost.amount, cost.document) == ("purchase", Decimal("150.00"), "B00001")
    job = stay.jobs.get()
    assert (job.purpose, job.state) == ("own", "logged")


def test_buying_twice_with_one_key_pays_once(clerk):
    said = {
        "seller": Person(known=CustomerFactory()),
        "machine": a_machine(),
        "price": Decimal("150.00"),
        "key": uuid.uuid4(),
        "by": clerk,
        "at": MORNING,
    }
    assert buy_machine(**said) == buy_machine(**said)
    assert MachineCost.objects.count() == 1


def test_an_own_job_needs_a_machine_of_ours(clerk):
    with pytest.raises(JobError, match="own stock"):
        open_own_job(stay=StayFactory(), complaint="x", key=uuid.uuid4(), by=clerk, at=MORNING)


# --- the screen -----------------------------------------------------------------------------


def typed(**other):
    return {
        "key": str(uuid.uuid4()),
        "who": "",
        "customer": "",
        "new_name": "Ines Okafell",
        "new_phone": "(202) 555-0104",
        "maker": "Corvane",
        "number": "T-310",
        "serial": "CV26-00417",
        "kind": KindFactory().pk,
        "complaint": "Belt slips.",
        "spend_limit": "",
        "arrival_note": "",
    } | other


def test_the_form_logs_in_and_leads_to_the_job(desk):
    answer = desk.post(reverse("intake"), typed(plate_photo=picture()))
    job = WorkOrder.objects.get()
    assert answer.url == reverse("job", args=[job.number])
    assert StoredFile.objects.count() == 1


def test_a_returning_customer_with_a_known_model_takes_at_most_twelve_inputs(desk):
    model = MachineModelFactory()
    for_the_new = {"new_name": "", "new_phone": "", "kind": ""}
    form = desk.get(reverse("intake")).context["form"]
    asked = {field.name for field in form.visible_fields()} - set(for_the_new)
    said = {"customer": CustomerFactory().pk, "maker": model.maker.name, "number": model.number}
    assert len(asked | {"customer"}) <= 12
    assert desk.post(reverse("intake"), typed(**said, **for_the_new)).status_code == 302


def test_a_double_click_makes_one_job(desk):
    said = typed()
    desk.post(reverse("intake"), said)
    answer = desk.post(reverse("intake"), said)
    assert answer.status_code == 302
    assert WorkOrder.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"new_phone": "call me maybe"}, "telephone"),
        ({"serial": "   "}, "serial"),
        ({"new_name": "", "customer": ""}, "Choose a customer below"),
        ({"kind": ""}, "We have not met this model before"),
        ({"complaint": ""}, "required"),
        ({"spend_limit": "-3"}, "greater than or equal to 0"),
        ({"customer": "999999"}, "Select a valid choice"),
    ],
)
def test_bad_input_gets_a_sentence_and_saves_nothing(desk, wrong, sentence):
    answer = desk.post(reverse("intake"), typed(**wrong))
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert not WorkOrder.objects.exists()
    assert not Customer.objects.exists()


def test_a_file_that_is_no_picture_is_refused_at_its_field(desk):
    fake = SimpleUploadedFile("plate.jpg", b"MZ not a picture", content_type="image/jpeg")
    answer = desk.post(reverse("intake"), typed(plate_photo=fake))
    assert answer.status_code == 422
    assert answer.context["form"].errors["plate_photo"]
    assert not WorkOrder.objects.exists()


def test_find_shows_the_matches_and_keeps_what_was_typed(desk):
    CustomerFactory(name="Tomas Brandmoor")
    answer = desk.post(reverse("intake"), typed(find="yes", who="brandm", new_name=""))
    page = answer.content.decode()
    assert "Tomas Brandmoor" in page
    assert "Belt slips." in page


def test_a_serial_seen_before_brings_up_its_history(desk):
    job = WorkOrderFactory()
    address = reverse("intake-history")
    said = {"maker": job.unit.maker.name, "serial": job.unit.serial.lower()}
    page = desk.get(address, said).content.decode()
    assert job.number in page
    assert "open for it already" in page


def test_the_ticket_carries_a_code_that_opens_the_job(desk):
    """The SVG's path is drawn as pixels and read by another library's QR reader."""
    job = WorkOrderFactory()
    page = desk.get(reverse("ticket", args=[job.number]))
    assert reverse("ticket-code", args=[job.number]) in page.content.decode()
    svg = desk.get(reverse("ticket-code", args=[job.number]))
    assert svg["Content-Type"] == "image/svg+xml"
    read = zxingcpp.read_barcodes(drawn_from(svg.content.decode()))
    assert read[0].text == f"http://testserver{reverse('job-link', args=[job.number])}"


def test_a_shop_may_say_where_phones_reach_it(desk, settings):
    settings.PUBLIC_ADDRESS = "https://desk.example:8443/"
    job = WorkOrderFactory()
    svg = desk.get(reverse("ticket-code", args=[job.number])).content.decode()
    read = zxingcpp.read_barcodes(drawn_from(svg))
    assert read[0].text == f"https://desk.example:8443{reverse('job-link', args=[job.number])}"


def test_the_code_s_address_leads_to_the_job(desk):
    job = WorkOrderFactory()
    answer = desk.get(reverse("job-link", args=[job.number]))
    assert answer.url == reverse("job", args=[job.number])


def test_pages_of_jobs_do_not_grow_with_their_rows(desk, django_assert_max_num_queries):
    for day in range(60):
        WorkOrderFactory(opened_at=MORNING - timedelta(days=day))
    with django_assert_max_num_queries(12):
        assert desk.get(reverse("job-list")).status_code == 200
    with django_assert_max_num_queries(12):
        desk.get(reverse("job", args=[WorkOrder.objects.first().number]))


def test_jobs_are_found_by_serial_customer_and_number(desk):
    wanted = WorkOrderFactory()
    WorkOrderFactory()
    for text in (wanted.number, wanted.unit.serial, wanted.owner.name):
        page = desk.get(reverse("job-list"), {"text": text})
        assert wanted in page.context["jobs"]


def test_the_stay_of_a_known_customer_s_machine_is_taken_up_again(clerk):
    owner = CustomerFactory()
    unit = UnitFactory(serial="CV1", serial_key="CV1")
    stay = StayFactory(unit=unit, owner=owner)
    job = logged(
        clerk,
        person=Person(known=owner),
        machine=a_machine(number=unit.model.number, serial="CV1"),
    )
    assert job.stay == stay
    assert Stay.objects.count() == 1


def test_an_unknown_model_takes_the_kind_that_was_said(clerk):
    job = logged(clerk, machine=a_machine(number="XX-1", kind=KindFactory(slug="rower")))
    assert job.unit.model.kind_id == "rower"
    assert MachineModelFactory._meta.model.objects.unconfirmed().count() == 1
