from django.urls import path

from shop.lots import views

urlpatterns = [
    path("offers/", views.OfferList.as_view(), name="offer-list"),
    path("offers/<int:pk>/", views.OfferPage.as_view(), name="offer"),
]
