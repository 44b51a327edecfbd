from django.urls import path

from parts.buying import views

urlpatterns = [
    path("receipts/", views.ReceiptList.as_view(), name="receipt-list"),
    path("receipts/add/", views.receipt_add, name="receipt-add"),
    path("receipts/<str:number>/", views.receipt, name="receipt"),
    path("receipts/<str:number>/return/<int:pk>/", views.part_return, name="part-return"),
    path("prices/", views.PriceList.as_view(), name="supplier-price-list"),
    path("prices/add/", views.supplier_price_add, name="supplier-price-add"),
    path("prices/lists/add/", views.supplier_list_add, name="supplier-list-add"),
    path("prices/lists/<uuid:pk>/", views.supplier_list, name="supplier-list"),
    path("orders/", views.OrderList.as_view(), name="order-list"),
    path("orders/add/", views.order_add, name="order-add"),
    path("orders/reorder/", views.reorder_list, name="reorder-list"),
    path("orders/<str:number>/", views.order, name="order"),
    path("orders/<str:number>/receive/", views.order_receive, name="order-receive"),
    path("orders/<str:number>/paper/", views.order_paper, name="order-paper"),
    path("orders/<str:number>/cancel/<int:pk>/", views.order_line_cancel, name="order-line-cancel"),
    path("exchanges/", views.exchange_list, name="exchange-list"),
    path("exchanges/offers/add/", views.exchange_offer_add, name="exchange-offer-add"),
    path("exchanges/offers/<int:pk>/order/", views.exchange_add, name="exchange-add"),
    path("exchanges/<str:number>/step/", views.exchange_step, name="exchange-step"),
]
