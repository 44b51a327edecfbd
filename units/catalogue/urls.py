from django.urls import path

from units.catalogue import views

urlpatterns = [
    path("suggest/makers/", views.suggest_maker_names, name="suggest-makers"),
    path("suggest/models/", views.suggest_model_numbers, name="suggest-models"),
    path("models/<int:pk>/edit/", views.edit_model, name="model-edit"),
    path("models/<int:pk>/merge/", views.merge_models, name="model-merge"),
    path("machines/<int:pk>/pictures/add/", views.add_pictures, name="photo-add"),
]
