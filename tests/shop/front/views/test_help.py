import pytest
from django.urls import reverse

from shop.front.views.help import TOPICS

pytestmark = pytest.mark.django_db


def test_help_names_every_topic(sit):
    page = sit("technician").get(reverse("help")).content.decode()
    assert all(reverse("help-topic", args=[topic]) in page for topic in TOPICS)


@pytest.mark.parametrize("topic", TOPICS)
def test_every_topic_can_be_read(sit, topic):
    page = sit("accountant").get(reverse("help-topic", args=[topic]))
    assert page.status_code == 200
    assert str(TOPICS[topic]) in page.content.decode().replace("&#x27;", "'")


def test_a_topic_that_nobody_wrote_is_not_found(sit):
    assert sit("owner").get(reverse("help-topic", args=["juggling"])).status_code == 404


def test_every_caution_of_the_table_stands_on_its_page(sit):
    page = sit("technician").get(reverse("help-topic", args=["cautions"])).content.decode()
    assert page.count('<p class="caution">') >= 5
