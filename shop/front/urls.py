from django.contrib.auth.views import LogoutView
from django.urls import path
from django.views.generic import TemplateView

from shop.front.views.door import SignInView
from shop.front.views.robots import robots

urlpatterns = [
    path("", TemplateView.as_view(template_name="front/home.html"), name="home"),
    path("sign-in/", SignInView.as_view(), name="sign-in"),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("find/", TemplateView.as_view(template_name="front/home.html"), name="search"),
    path("machines/<int:pk>/", TemplateView.as_view(template_name="front/home.html"), name="machine"),
    path("models/<int:pk>/", TemplateView.as_view(template_name="front/home.html"), name="model"),
    path("robots.txt", robots, name="robots"),
]
