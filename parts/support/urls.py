from django.urls import path

from parts.support import views

urlpatterns = [
    path("models/<int:pk>/parts/", views.model_parts, name="model-parts"),
    path("parts/<int:pk>/had/", views.part_had, name="part-had"),
]
