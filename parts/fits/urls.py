from django.urls import path

from parts.fits import views

urlpatterns = [
    path("parts/", views.PartList.as_view(), name="part-list"),
    path("parts/add/", views.part_add, name="part-add"),
    path("parts/<int:pk>/", views.PartPage.as_view(), name="part"),
    path("parts/<int:pk>/fits/add/", views.fit_add, name="fit-add"),
]
