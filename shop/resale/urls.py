from django.urls import path

from shop.resale.views import goods, leaving, looking, preparing, reserving

OUT = "for-sale/<int:pk>/out/<slug:way>/"

urlpatterns = [
    path("for-sale/", looking.ready_list, name="ready-list"),
    path("for-sale/holding-period/", preparing.holding_period, name="holding-period"),
    path("for-sale/holding-period/set/", preparing.holding_set, name="holding-set"),
    path("for-sale/<int:pk>/", looking.readiness, name="readiness"),
    path("for-sale/<int:pk>/tag/", looking.hang_tag, name="hang-tag"),
    path("for-sale/<int:pk>/written/", preparing.written, name="written"),
    path("for-sale/<int:pk>/grading/", preparing.grading_add, name="grading-add"),
    path("for-sale/<int:pk>/price/", preparing.price_set, name="price-set"),
    path("for-sale/<int:pk>/reserve/", reserving.reservation, name="reservation"),
    path("for-sale/<int:pk>/sell/", leaving.machine_sell, name="machine-sell"),
    path(OUT, looking.way_out, name="way-out"),
    path(f"{OUT}sell/", leaving.machine_sell, name="machine-sell-by"),
    path(f"{OUT}go/", leaving.machine_dispose, name="machine-dispose"),
    path(f"{OUT}paper/", preparing.disclosure_add, name="disclosure-add"),
    path(f"{OUT}let-pass/<slug:condition>/", preparing.waiver_add, name="waiver-add"),
    path("goods/", goods.goods_list, name="goods-list"),
    path("goods/<slug:number>/", goods.show_goods, name="goods"),
    path("goods/<slug:number>/put/", goods.goods_put, name="goods-put"),
    path("goods/<slug:number>/sell/", goods.goods_sell, name="goods-sell"),
    path("goods/<slug:number>/lost/", goods.goods_lost, name="goods-lost"),
    path("papers/<int:pk>/", preparing.disclosure, name="disclosure"),
    path("reserved/<int:pk>/", reserving.reservation_paper, name="reservation-paper"),
    path("reserved/<int:pk>/release/", reserving.reservation_release, name="reservation-release"),
    path("gone/<slug:number>/", leaving.disposal, name="disposal"),
    path("machines/<int:pk>/strip/", leaving.machine_strip, name="donor-strip"),
]
