from django.urls import path

from shop.books import views

urlpatterns = [
    path("periods/", views.period_list, name="period-list"),
    path("periods/<str:period>/", views.period, name="period"),
    path("periods/<str:period>/workbook/", views.period_workbook, name="period-workbook"),
    path("journal/<int:pk>/", views.journal_entry, name="journal-entry"),
]
