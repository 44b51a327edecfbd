from django.urls import path

from units.plates.views import pictures, readings, records, walks

urlpatterns = [
    path("machines/<int:pk>/plate/add/", records.add_plate, name="plate-add"),
    path("plates/", readings.PlateList.as_view(), name="plates"),
    path("plates/read/", readings.read_photos, name="plate-read"),
    path("plates/walks/add/", walks.add_walk, name="plate-walk-add"),
    path("plates/walks/<uuid:pk>/", walks.show_walk, name="plate-walk"),
    path("plates/<uuid:pk>/", readings.show_reading, name="plate-reading"),
    path("plates/<uuid:pk>/confirm/", readings.confirm, name="plate-confirm"),
    path("plates/<uuid:pk>/again/", readings.read_again, name="plate-again"),
    path("plates/<uuid:pk>/aside/", readings.put_aside, name="plate-aside"),
    path("plates/<uuid:pk>/piece/<slug:field>/", pictures.show_piece, name="plate-crop"),
]
