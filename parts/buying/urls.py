from django.urls import path

from parts.buying import views

urlpatterns = [
    path("receipts/", views.ReceiptList.as_view(), name="receipt-list"),
    path("receipts/add/", views.receipt_add, name="receipt-add"),
    path("receipts/<str:number>/", views.receipt, name="receipt"),
    path("prices/", views.PriceList.as_view(), name="supplier-price-list"),
    path("prices/add/", views.supplier_price_add, name="supplier-price-add"),
]
