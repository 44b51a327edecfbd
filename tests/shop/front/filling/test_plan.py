from dataclasses import replace

import pytest

from shop.front.filling.plan import CHUNK, chunks, create
from units.catalogue.models import Maker


@pytest.mark.parametrize(("count", "sizes"), [(0, []), (2, [2]), (3, [2, 1]), (4, [2, 2])])
def test_chunks_hold_everything_in_order(count, sizes):
    found = list(chunks(range(count), 2))
    assert [len(chunk) for chunk in found] == sizes
    assert [one for chunk in found for one in chunk] == list(range(count))


def test_rows_are_written_and_told_of_in_chunks(plan):
    heard = []
    telling = replace(plan, tell=lambda *said: heard.append(said))
    rows = (Maker(name=f"Kestrow {at}", key=f"KESTROW{at}") for at in range(CHUNK + 1))
    assert create(telling, Maker, rows) == CHUNK + 1
    assert heard == [("makers", CHUNK), ("makers", CHUNK + 1)]
