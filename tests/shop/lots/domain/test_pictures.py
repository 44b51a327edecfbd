"""Places of shapes, by hand computation from figures of a small bid."""

import pytest

from shop.lots.domain.pictures import (
    FOOT,
    LEFT,
    RIGHT,
    TOP,
    drivers_picture,
    machines_picture,
    nice,
    odds_picture,
    profit_picture,
    tenths_picture,
)

FIGURES = {
    "profits": {"x": [-100.0, 0.0, 100.0, 300.0], "y": [0.25, 0.5, 0.25]},
    "wanted": 100.0,
    "odds": {"x": [0.0, 500.0, 1000.0], "y": [1.0, 0.8, 0.0]},
    "most_to_pay": 500.0,
    "machines": [
        {
            "model": "Corvane T9",
            "count": 3,
            "worth": 400.0,
            "fates": {"repair": 0.5, "as-is": 0.25, "donor": 0.25, "scrap": 0.0},
        }
    ],
    "drivers": [
        {"key": "storage", "low": 550.0, "high": 400.0},
        {"key": "money", "low": 500.0, "high": 500.0},
    ],
}


@pytest.mark.parametrize(("step", "wanted"), [(0.2, 1), (1, 1), (13, 20), (37, 50), (501, 1000)])
def test_ticks_are_round_figures(step, wanted):
    assert nice(step) == wanted


def test_bars_of_the_profit_are_as_tall_as_often_and_dark_where_the_margin_is_met():
    picture = profit_picture(FIGURES)
    assert [bar.height for bar in picture.bars] == [80, 160, 80]
    assert picture.bars[1].y == TOP
    assert [bar.share for bar in picture.bars] == [0.35, 0.35, 1.0]
    assert [mark.at for mark in picture.marks] == [106, 200]  # a quarter, a half of 12 to 388
    assert [tick.value for tick in picture.ticks] == [-100, 0, 100, 200, 300]


def test_the_line_of_the_margin_is_in_the_picture_even_where_no_draw_comes_near():
    picture = profit_picture({**FIGURES, "wanted": 700.0})
    assert picture.marks[1].at == RIGHT


def test_the_odds_fall_from_the_left_above_to_the_right_below():
    picture = odds_picture(FIGURES, 0.8, 1000.0)
    assert picture.points[0] == (LEFT, TOP)
    assert picture.points[-1] == (RIGHT, FOOT)
    assert [mark.at for mark in picture.marks] == [200, RIGHT]
    assert picture.levels[0].at == picture.points[1][1]
    assert picture.line.startswith("12.0,12.0 200.0,")


def test_ways_of_a_model_stand_side_by_side():
    (row,) = machines_picture(FIGURES).rows
    assert [(bar.x, bar.width) for bar in row.bars] == [
        (12, 188), (200, 94), (294, 94), (388, 0),
    ]  # fmt: skip
    assert (row.count, row.low) == (3, 400)


def test_drivers_stand_between_their_bounds_and_those_without_a_swing_are_left_out():
    picture = drivers_picture(FIGURES)
    (row,) = picture.rows
    assert (row.bars[0].x, row.bars[0].width) == (LEFT, RIGHT - LEFT)
    assert picture.marks[0].at == pytest.approx(12 + 376 * 2 / 3, abs=0.1)


def test_each_tenth_has_its_bar_and_the_level_is_the_mean():
    picture = tenths_picture([0, 0, 2, 4, 2, 0, 0, 1, 1, 0])
    assert [bar.value for bar in picture.bars] == [0, 0, 2, 4, 2, 0, 0, 1, 1, 0]
    assert picture.bars[3].height == FOOT - TOP
    assert picture.bars[2].height == (FOOT - TOP) / 2
    assert picture.levels[0].at == FOOT - (FOOT - TOP) * 1.0 / 4
    assert [tick.value for tick in picture.ticks] == list(range(1, 11))
    assert LEFT <= picture.bars[0].x < picture.bars[-1].x + picture.bars[-1].width <= RIGHT
