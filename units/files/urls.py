from django.urls import path

from units.files import views

urlpatterns = [
    path("files/<uuid:pk>/", views.show_file, name="file"),
    path("files/<uuid:pk>/small/", views.show_file, {"small": True}, name="file-small"),
]
