from django.contrib.auth import views as auth
from django.urls import path
from django.views.generic import TemplateView

urlpatterns = [
    path("sign-in/", auth.LoginView.as_view(template_name="front/sign_in.html"), name="sign-in"),
    path("sign-out/", auth.LogoutView.as_view(), name="sign-out"),
    path("", TemplateView.as_view(template_name="front/home.html"), name="home"),
    path("find/", TemplateView.as_view(template_name="front/home.html"), name="search"),
]
