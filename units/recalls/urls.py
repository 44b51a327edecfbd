from django.urls import path

from units.recalls import views

urlpatterns = [
    path("machines/<int:pk>/recall-check/add/", views.add_check, name="recall-check-add"),
    path("machines/<int:pk>/recalls/", views.machine_recalls, name="machine-recalls"),
    path("recalls/", views.RecallList.as_view(), name="recall-list"),
    path("recalls/load/", views.load, name="recall-load"),
    path("recalls/matches/", views.match_list, name="recall-match-list"),
    path("recalls/<int:pk>/", views.recall, name="recall"),
    path("recalls/<int:pk>/machines/<int:unit>/", views.decide, name="recall-decide"),
    path("recalls/<int:pk>/machines/<int:unit>/remedy/", views.remedy, name="recall-remedy"),
]
