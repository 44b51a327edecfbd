from django.contrib.auth.views import LogoutView
from django.urls import path

from shop.front.views.calls import call, call_list
from shop.front.views.door import SignInView
from shop.front.views.help import help_index, help_topic
from shop.front.views.home import home
from shop.front.views.lists import MachineList, ModelList
from shop.front.views.offline import offline, service_worker, today
from shop.front.views.pages import customer, machine, model
from shop.front.views.robots import robots
from shop.front.views.search import search

urlpatterns = [
    path("", home, name="home"),
    path("sign-in/", SignInView.as_view(), name="sign-in"),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("find/", search, name="search"),
    path("help/", help_index, name="help"),
    path("help/<slug:topic>/", help_topic, name="help-topic"),
    path("machines/", MachineList.as_view(), name="machine-list"),
    path("machines/<int:pk>/", machine, name="machine"),
    path("customers/<int:pk>/", customer, name="customer"),
    path("models/", ModelList.as_view(), name="model-list"),
    path("models/<int:pk>/", model, name="model"),
    path("calls/", call_list, name="call-list"),
    path("calls/<int:pk>/", call, name="call"),
    path("service-worker.js", service_worker, name="service-worker"),
    path("offline/", offline, name="offline"),
    path("offline/today/", today, name="offline-today"),
    path("robots.txt", robots, name="robots"),
]
