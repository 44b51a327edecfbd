from django.urls import path

from parts.fits import views

urlpatterns = [
    path("parts/", views.PartList.as_view(), name="part-list"),
    path("parts/add/", views.part_add, name="part-add"),
    path("parts/standard/", views.standard_parts, name="standard-parts"),
    path("parts/<int:pk>/", views.part, name="part"),
    path("parts/<int:pk>/fits/add/", views.fit_add, name="fit-add"),
    path("parts/fits/<int:pk>/withdraw/", views.fit_withdraw, name="fit-withdraw"),
    path("parts/<int:pk>/replaced/", views.part_supersede, name="part-supersede"),
    path("parts/<int:pk>/designation/", views.part_designation, name="part-designation"),
    path(
        "parts/replaced/<int:pk>/withdraw/",
        views.supersession_withdraw,
        name="supersession-withdraw",
    ),
    path("models/<int:pk>/sisters/", views.model_sisters, name="model-sisters"),
    path("models/sisters/<int:pk>/withdraw/", views.sister_withdraw, name="sister-withdraw"),
]
