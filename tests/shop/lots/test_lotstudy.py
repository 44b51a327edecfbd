import io

import pytest
from django.core.management import CommandError, call_command


def test_a_small_study_shows_every_stage():
    out = io.StringIO()
    call_command("lotstudy", shops=2, judged=2, stages="0,1", seed=3, workers=1, stdout=out)
    told = out.getvalue()
    assert told.startswith("2 shops, 2 lots judged in each, seed 3")
    assert "after 0 lots" in told
    assert "after 1 lots" in told
    assert told.count("within the middle 80 %") == 2
    assert told.count("regret of") == 8


@pytest.mark.parametrize("wrong", [{"shops": 1}, {"stages": "a"}, {"stages": "-1"}, {"judged": 0}])
def test_a_study_of_nothing_is_refused(wrong):
    with pytest.raises(CommandError):
        call_command("lotstudy", **{"shops": 2, "stages": "0", **wrong})
