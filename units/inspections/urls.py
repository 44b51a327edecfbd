from django.urls import path

from units.inspections import views

urlpatterns = [
    path("protocols/", views.ProtocolList.as_view(), name="protocol-list"),
    path("protocols/<int:pk>/", views.ProtocolDetail.as_view(), name="protocol"),
    path("inspections/outbox/", views.outbox, name="inspection-outbox"),
    path("inspections/<int:pk>/", views.InspectionDetail.as_view(), name="inspection"),
    path("inspections/<int:pk>/steps/<int:position>/", views.step, name="inspection-step"),
    path("inspections/<int:pk>/finish/", views.finish, name="inspection-finish"),
    path("measuring/", views.measuring_tools, name="measuring-tools"),
    path("measuring/<slug:slug>/", views.measuring_tool, name="measuring-tool"),
    path("machines/<int:pk>/measures/", views.machine_measures, name="machine-measures"),
    path("measures/<int:pk>/withdraw/", views.withdraw_measure, name="measure-withdraw"),
]
