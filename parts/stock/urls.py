from django.urls import path

from parts.stock import views

urlpatterns = [
    path("shelf/", views.ShelfPage.as_view(), name="shelf"),
    path("shelf/<int:pk>/count/", views.stock_count, name="stock-count"),
]
