from django.urls import path

from shop.people import views

urlpatterns = [
    path("customers/", views.CustomerList.as_view(), name="customer-list"),
    path("customers/add/", views.customer_add, name="customer-add"),
    path("customers/suggest/", views.suggest_customers, name="suggest-customers"),
    path("customers/<int:pk>/edit/", views.customer_edit, name="customer-edit"),
    path("customers/<int:pk>/places/add/", views.place_add, name="place-add"),
    path("shop/", views.shop_profile, name="shop-profile"),
]
