from django.urls import path

from shop.resale import views

urlpatterns = [
    path("for-sale/", views.ready_list, name="ready-list"),
    path("for-sale/<int:pk>/", views.readiness, name="readiness"),
    path("machines/<int:pk>/strip/", views.machine_strip, name="donor-strip"),
    path("for-sale/<int:pk>/grading/", views.grading_add, name="grading-add"),
    path("for-sale/<int:pk>/price/", views.price_set, name="price-set"),
    path("for-sale/<int:pk>/sell/", views.machine_sell, name="machine-sell"),
]
