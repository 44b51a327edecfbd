from django.urls import path

from units.binder import views

urlpatterns = [
    path("models/<int:pk>/papers/add/", views.file_add, name="model-file-add"),
    path("models/<int:pk>/notes/add/", views.note_add, name="model-note-add"),
    path("models/<int:pk>/codes/add/", views.code_add, name="error-code-add"),
    path("notes/<int:pk>/pin/", views.note_pin, name="note-pin"),
    path("binder/<slug:sort>/<int:pk>/take-out/", views.entry_take_out, name="entry-take-out"),
]
