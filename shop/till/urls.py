from django.urls import path

from shop.till import views

urlpatterns = [
    path("invoices/", views.InvoiceList.as_view(), name="invoice-list"),
    path("invoices/<str:number>/", views.InvoicePaper.as_view(), name="invoice"),
    path("invoices/<str:number>/pay/", views.payment_add, name="payment-add"),
    path("payments/", views.PaymentList.as_view(), name="payment-list"),
    path("payments/<str:number>/reverse/", views.payment_reverse, name="payment-reverse"),
    path("rates/", views.rates, name="rates"),
    path("rates/tax/add/", views.tax_rate_add, name="tax-rate-add"),
    path("rates/labour/add/", views.labour_rate_add, name="labour-rate-add"),
    path("rates/mark-up/add/", views.mark_up_add, name="mark-up-add"),
]
