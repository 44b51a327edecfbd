import pytest
from django.core.files.base import ContentFile
from django.urls import reverse

from shop.lots.models import Lot, LotLine, LotSource, SourceRow
from shop.lots.services import add_source
from tests.factories.shop import ShopProfileFactory
from tests.factories.units import PersonFactory
from tests.shop.lots.lots import a_list, a_lot, act, models

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


@pytest.fixture
def desk(client):
    """The owner, signed in."""
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


@pytest.fixture
def listed():
    """A list with three sure lines, two to decide, two questions and a total."""
    models()
    return a_list(
        ["HG 7100", 1, "ML100200", "3,100 h"], ["Holmgate HG 7250", 2], ["KR 8", 3],
        ["the 7250 tread", 1], ["tread 7250", 1], ["KR 8 old", "a few"], ["Bumper plates", 10],
        ["HG 7100", 1, None, 2015], ["HG 7250", 1, None, "bought 2016"], ["TOTAL", 20],
    )  # fmt: skip


def shown(desk, source):
    return desk.get(reverse("lot-check", args=[source.lot_id]))


def post(desk, name, *args, **said):
    return desk.post(reverse(name, args=args), said)


def test_the_screen_tells_sure_lines_lines_to_decide_and_questions_apart(desk, listed):
    checking = shown(desk, listed).context["checking"]
    assert (len(checking.sure), checking.unsure, len(checking.asked)) == (4, 2, 3)
    assert [row.reason for row in checking.not_lines] == ["heading", "total"]


def test_one_press_confirms_all_that_is_sure(desk, listed):
    page = shown(desk, listed).text
    assert "Confirm all 4 sure lines" in page
    post(desk, "lot-sure", listed.lot_id)
    assert LotLine.objects.filter(state="confirmed").count() == 4


def test_the_likeliest_model_stands_first_with_how_sure_it_is_and_as_typed_last(desk, listed):
    group = shown(desk, listed).context["checking"].groups[0]
    assert group.choices[0].label == "Holmgate HG 7250"
    assert 40 < group.choices[0].sure < 90
    assert group.choices[-1].pk is None


def test_lines_to_decide_are_confirmed_as_chosen(desk, listed):
    hg = LotLine.objects.filter(model__number="HG 7100").first().model
    groups = shown(desk, listed).context["checking"].groups
    said = {f"lines-{group.number}": group.ids for group in groups}
    said |= {f"model-{group.number}": hg.pk for group in groups}
    post(desk, "lot-chosen", listed.lot_id, **said)
    assert LotLine.objects.filter(state="confirmed", model=hg).count() == 2


def asked(code) -> LotLine:
    found = [row for row in SourceRow.objects.filter(fate="question")
             if row.questions[0]["code"] == code]  # fmt: skip
    return found[0].line


def test_questions_are_answered_together_and_what_is_left_empty_waits(desk, listed):
    count, mass, use = asked("count"), asked("mass"), asked("hours-or-year")
    said = {f"line-{count.pk}-count": "4", f"line-{mass.pk}-quantity": "450",
            f"line-{mass.pk}-measure": "lb"}  # fmt: skip
    assert post(desk, "lot-answers", listed.lot_id, **said).status_code == 302
    for line in (count, mass, use):
        line.refresh_from_db()
    assert (count.state, count.count) == ("confirmed", 4)
    assert (mass.state, mass.quantity, mass.measure) == ("confirmed", 450, "lb")
    assert use.state == "proposed"


@pytest.mark.parametrize(("use", "hours", "year"), [("hours", 2015, None), ("year", None, 2015)])
def test_a_figure_that_may_be_hours_or_a_year_becomes_what_is_said(desk, listed, use, hours, year):
    line = asked("hours-or-year")
    post(desk, "lot-answers", listed.lot_id, **{f"line-{line.pk}-use": use})
    line.refresh_from_db()
    assert (line.hours, line.year) == (hours, year)


def test_a_questioned_row_may_be_none_of_the_offer(desk, listed):
    line = asked("count")
    post(desk, "lot-answers", listed.lot_id, **{f"line-{line.pk}-none": "on"})
    line.refresh_from_db()
    assert (line.state, line.row.reason) == ("dropped", "person")


def test_an_answer_that_is_no_number_is_told_at_its_field_and_the_others_stay(desk, listed):
    count, mass = asked("count"), asked("mass")
    said = {f"line-{count.pk}-count": "many", f"line-{mass.pk}-quantity": "450"}
    answer = post(desk, "lot-answers", listed.lot_id, **said)
    assert answer.status_code == 422
    assert "Enter a whole number" in answer.text
    assert 'value="450"' in answer.text
    assert LotLine.objects.filter(state="confirmed").count() == 0


def test_a_row_taken_for_none_can_be_made_a_line(desk, listed):
    row = listed.rows.get(reason="total")
    answer = post(desk, "lot-row-line", listed.lot_id, row.pk)
    assert answer["Location"] == reverse("lot-line", args=[listed.lot_id, row.line.pk])


def test_a_line_is_corrected_on_its_own_page(desk, listed):
    line = asked("count")
    address = reverse("lot-line", args=[listed.lot_id, line.pk])
    page = desk.get(address).text
    assert "“a few” says no count" in page
    said = {"text": "KR 8", "model": line.model.pk, "count": "2", "serials": "KS10020, KS10021"}
    assert desk.post(address, said).status_code == 302
    line.refresh_from_db()
    assert (line.count, line.serials, line.state) == (2, ["KS10020", "KS10021"], "confirmed")


def test_a_wrong_correction_keeps_what_was_typed(desk, listed):
    line = asked("count")
    said = {"text": "my words", "count": "1", "serials": "KS10020, KS10021"}
    answer = desk.post(reverse("lot-line", args=[listed.lot_id, line.pk]), said)
    assert answer.status_code == 422
    assert "Raise the count" in answer.text
    assert "my words" in answer.text


def test_a_line_is_added_by_hand_and_left_out_again(desk):
    models()
    lot = a_lot()
    said = {"text": "bumpers", "goods": "plates", "quantity": "300", "measure": "lb", "count": "1"}
    post(desk, "lot-line-add", lot.pk, **said)
    line = LotLine.objects.get()
    assert (line.goods, line.quantity) == ("plates", 300)
    post(desk, "lot-line-drop", lot.pk, line.pk)
    line.refresh_from_db()
    assert line.state == "dropped"


def test_columns_that_a_person_corrects_are_read_again(desk):
    models()
    source = a_list(["HG 7100", 1, 5], ["HG 7250", 1, 6], head=["Model", "Qty", "Other"])
    form = shown(desk, source).context["parts"][0][1][0]
    said = {f"{form.prefix}-{name}": form.initial.get(name, field.initial)
            for name, field in form.fields.items()}  # fmt: skip
    said |= {f"{form.prefix}-1": "aside", f"{form.prefix}-2": "count"}
    post(desk, "lot-columns", source.lot_id, source.pk, **said)
    source.refresh_from_db()
    assert (source.state, source.chosen) == ("waiting", {"Sheet1|1": {"1": "aside", "2": "count"}})


def test_the_list_is_right_once_nothing_waits(desk):
    models()
    source = a_list(["HG 7100", 1], ["KR 8", 2])
    assert "The list is right" not in shown(desk, source).text
    post(desk, "lot-sure", source.lot_id)
    assert "The list is right" in shown(desk, source).text
    assert post(desk, "lot-confirm", source.lot_id)["Location"] == reverse(
        "lot", args=[source.lot_id]
    )
    assert Lot.objects.get().state == "listed"


def test_a_list_with_an_open_line_is_not_confirmed_and_says_why(desk, listed):
    answer = desk.post(reverse("lot-confirm", args=[listed.lot_id]), follow=True)
    assert "9 lines wait" in answer.text


def test_progress_is_told_until_the_list_is_read_and_then_the_page_shows_itself_anew(desk):
    lot = a_lot()
    source = add_source(lot=lot, upload=ContentFile(b"KR 8\n", name="l.csv"), **act())
    LotSource.objects.filter(pk=source.pk).update(state="reading", rows_done=50, rows_all=120)
    address = reverse("lot-progress", args=[lot.pk])
    assert "50 of 120 rows" in desk.get(address, headers=HTMX).text
    LotSource.objects.filter(pk=source.pk).update(state="read")
    assert desk.get(address, headers=HTMX)["HX-Refresh"] == "true"
    assert desk.get(address)["Location"] == reverse("lot-check", args=[lot.pk])


def test_a_list_that_cannot_be_read_says_why(desk):
    source = a_list(content=b"\n,,\n", name="empty.csv")
    page = shown(desk, source).text
    assert "holds no filled row" in page
    assert "Read it again" in page
    post(desk, "lot-again", source.lot_id, source.pk)
    source.refresh_from_db()
    assert source.state == "waiting"


def test_the_screen_needs_no_more_queries_for_more_lines(desk, django_assert_max_num_queries):
    models()
    rows = [["HG 7100", 1], ["tread 7250", 1], ["KR 8 x", "a few"], ["what is it", 1]] * 6
    source = a_list(*rows)
    with django_assert_max_num_queries(12):
        shown(desk, source)
    line = LotLine.objects.first()
    with django_assert_max_num_queries(12):
        desk.get(reverse("lot-line", args=[source.lot_id, line.pk]))
