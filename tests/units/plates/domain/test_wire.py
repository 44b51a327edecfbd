from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from units.plates.domain.wire import read_frame, write_frame

HEADS = st.dictionaries(st.text(), st.one_of(st.text(), st.integers(), st.lists(st.booleans())))


@given(st.lists(st.tuples(HEADS, st.binary())))
def test_frames_arrive_as_they_were_sent(frames):
    pipe = BytesIO()
    for head, body in frames:
        write_frame(pipe, head, body)
    pipe.seek(0)
    assert [read_frame(pipe) for _ in frames] == frames
    assert read_frame(pipe) is None


@pytest.mark.parametrize("kept", [0, 3, 8, 12, 30])
def test_frame_cut_off_is_an_end_and_no_frame(kept):
    pipe = BytesIO()
    write_frame(pipe, {"ready": True}, b"x" * 100)
    assert read_frame(BytesIO(pipe.getvalue()[:kept])) is None
