from django.urls import path

from parts.stock import views

urlpatterns = [
    path("shelf/", views.ShelfPage.as_view(), name="shelf"),
    path("shelf/costing/", views.costing_page, name="costing"),
    path("shelf/costing/choose/", views.costing_choose, name="costing-choose"),
    path("shelf/<int:pk>/", views.stock_part, name="stock-part"),
    path("shelf/<int:pk>/count/", views.stock_count, name="stock-count"),
    path("shelf/<int:pk>/scrap/", views.stock_scrap, name="stock-scrap"),
    path("shelf/<int:pk>/move/", views.stock_move, name="stock-move"),
    path("donors/", views.DonorList.as_view(), name="donor-list"),
    path("donors/<int:pk>/", views.donor, name="donor"),
    path("donors/<int:pk>/labels/", views.donor_labels, name="donor-labels"),
    path("donors/<int:pk>/pieces/<int:piece>/take/", views.donor_take, name="donor-take"),
    path("donors/<int:pk>/pieces/<int:piece>/scrap/", views.donor_scrap, name="donor-scrap"),
]
