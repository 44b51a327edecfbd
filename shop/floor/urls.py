from django.urls import path

from shop.floor import views

urlpatterns = [
    path("stands/<int:pk>/", views.stand, name="stand"),
    path("stands/<int:pk>/move/", views.stand_move, name="stand-move"),
    path("stands/<int:pk>/code/", views.stand_code, name="stand-code"),
    path("spots/", views.spots, name="spot-list"),
    path("spots/add/", views.spot_add, name="spot-add"),
    path("spots/<int:pk>/close/", views.spot_close, name="spot-close"),
    path("sellers/", views.sellers, name="sellers-owed"),
    path("sellers/<slug:document>/", views.seller_pay, name="seller-pay"),
]
