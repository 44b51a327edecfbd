from django.urls import path

from units.plates import views

urlpatterns = [path("machines/<int:pk>/plate/add/", views.add_plate, name="plate-add")]
