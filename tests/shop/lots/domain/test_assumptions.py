from dataclasses import replace

import pytest

from shop.lots.domain.assumptions import (
    base_assumptions,
    stated,
    stated_haul,
    stated_terms,
    with_figure,
)


def test_every_stated_figure_has_bounds_and_an_origin():
    for one in stated().values():
        assert one.low <= one.base <= one.high
        assert one.low < one.high
        assert one.origin
        assert one.unit


def test_the_base_is_what_the_table_states():
    base = base_assumptions()
    assert base.dependence == ((stated()["lot_weight"].base, stated()["machine_weight"].base),)
    assert base.bench_rate == stated()["bench_rate"].base
    assert base.haul == stated_haul()
    assert 0 < stated_terms().odds < 1


@pytest.mark.parametrize("key", sorted(stated()))
def test_each_figure_can_be_changed_alone(key):
    base = base_assumptions()
    changed = with_figure(base, key, stated()[key].high)
    assert changed != base
    assert with_figure(changed, key, stated()[key].base) == base


def test_the_weights_go_by_their_own_names():
    pairs = replace(base_assumptions(), dependence=((0.1, 0.2), (0.3, 0.4)))
    assert with_figure(pairs, "lot_weight", 0.5).dependence == ((0.5, 0.2), (0.5, 0.4))
    assert with_figure(pairs, "machine_weight", 0.5).dependence == ((0.1, 0.5), (0.3, 0.5))


@pytest.mark.parametrize("pairs", [(), ((0.8, 0.7),), ((-0.1, 0.2),)])
def test_weights_that_leave_nothing_to_the_rest_are_refused(pairs):
    with pytest.raises(ValueError, match="weights"):
        replace(base_assumptions(), dependence=pairs)


def test_without_bench_hours_nothing_is_valued():
    with pytest.raises(ValueError, match="bench hours"):
        replace(base_assumptions(), bench_hours=0.0)
