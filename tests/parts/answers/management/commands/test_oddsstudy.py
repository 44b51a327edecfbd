from io import StringIO

from django.core.management import call_command


def test_the_study_prints_a_table_for_each_word():
    out = StringIO()
    call_command("oddsstudy", shops=1, seed=2, stdout=out)
    lines = out.getvalue().splitlines()
    assert lines[0] == "1 shops, 180 words judged, seed 2"
    assert [line for line in lines if line in ("supported", "back-ordered", "listing", "all")] == [
        "supported",
        "back-ordered",
        "listing",
        "all",
    ]
