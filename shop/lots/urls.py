from django.urls import path

from shop.lots.views import checking, floor, lots, valuing

urlpatterns = [
    path("lots/", lots.LotList.as_view(), name="lot-list"),
    path("lots/add/", lots.lot_add, name="lot-add"),
    path("lots/<int:pk>/", lots.show_lot, name="lot"),
    path("lots/<int:pk>/lists/add/", lots.lot_list_add, name="lot-list-add"),
    path("lots/<int:pk>/lists/<uuid:source>/", floor.lot_source, name="lot-source"),
    path("lots/<int:pk>/lists/<uuid:source>/columns/", checking.lot_columns, name="lot-columns"),
    path("lots/<int:pk>/check/", checking.show_checking, name="lot-check"),
    path("lots/<int:pk>/check/progress/", checking.show_progress, name="lot-progress"),
    path("lots/<int:pk>/check/sure/", checking.lot_sure, name="lot-sure"),
    path("lots/<int:pk>/check/chosen/", checking.lot_chosen, name="lot-chosen"),
    path("lots/<int:pk>/check/answers/", checking.lot_answers, name="lot-answers"),
    path("lots/<int:pk>/check/rows/<int:row>/", checking.lot_row_line, name="lot-row-line"),
    path("lots/<int:pk>/confirm/", checking.lot_confirm, name="lot-confirm"),
    path("lots/<int:pk>/lines/add/", checking.lot_line_add, name="lot-line-add"),
    path("lots/<int:pk>/lines/<int:line>/", checking.lot_line, name="lot-line"),
    path("lots/<int:pk>/lines/<int:line>/drop/", checking.lot_line_drop, name="lot-line-drop"),
    path("lots/<int:pk>/matters/", lots.lot_matter, name="lot-matter"),
    path("lots/<int:pk>/agree/", lots.lot_agree, name="lot-agree"),
    path("lots/<int:pk>/pay/", lots.lot_pay, name="lot-pay"),
    path("lots/<int:pk>/leave/", lots.lot_leave, name="lot-leave"),
    path("lots/<int:pk>/walk/", floor.lot_walk, name="lot-walk"),
    path("lots/<int:pk>/machines/<int:machine>/", floor.lot_machine, name="lot-machine"),
    path(
        "lots/<int:pk>/machines/<int:machine>/inspect/",
        floor.lot_machine_inspect,
        name="lot-machine-inspect",
    ),
    path(
        "lots/<int:pk>/machines/<int:machine>/odds/",
        floor.lot_machine_odds,
        name="lot-machine-odds",
    ),
    path("lots/<int:pk>/load/", floor.lot_load, name="lot-load"),
    path(
        "lots/<int:pk>/machines/<int:machine>/load/",
        floor.lot_machine_load,
        name="lot-machine-load",
    ),
    path("lots/<int:pk>/loaded/", lots.lot_loaded, name="lot-loaded"),
    path("lots/<int:pk>/worth/", valuing.lot_worth, name="lot-worth"),
    path("valuations/<int:pk>/", valuing.valuation, name="valuation"),
    path("valuations/<int:pk>/again/", valuing.valuation_again, name="valuation-again"),
    path("valuations/<int:pk>/bid.pdf", valuing.valuation_paper, name="valuation-paper"),
]
