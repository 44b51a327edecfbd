from django.urls import path

from units.recalls import views

urlpatterns = [
    path("machines/<int:pk>/recall-check/add/", views.add_check, name="recall-check-add")
]
