from django.urls import path

from parts.answers import views

urlpatterns = [
    path("answers/freshness/", views.freshness, name="freshness"),
    path("answers/", views.AnswerList.as_view(), name="answer-list"),
    path("models/<int:pk>/answers/add/", views.answer_add, name="answer-add"),
    path("answers/<int:pk>/withdraw/", views.answer_withdraw, name="answer-withdraw"),
]
