from django.urls import include, path

urlpatterns = [
    path("", include("shop.front.urls")),
    path("", include("shop.books.urls")),
    path("", include("shop.lots.urls")),
    path("", include("shop.resale.urls")),
    path("", include("shop.floor.urls")),
    path("", include("shop.work.urls")),
    path("", include("shop.till.urls")),
    path("", include("shop.people.urls")),
    path("", include("parts.support.urls")),
    path("", include("parts.buying.urls")),
    path("", include("parts.stock.urls")),
    path("", include("parts.answers.urls")),
    path("", include("parts.fits.urls")),
    path("", include("units.recalls.urls")),
    path("", include("units.inspections.urls")),
    path("", include("units.plates.urls")),
    path("", include("units.binder.urls")),
    path("", include("units.catalogue.urls")),
    path("", include("units.files.urls")),
]
