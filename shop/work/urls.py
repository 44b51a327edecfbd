from django.urls import path

from shop.work.views import (
    alternatives,
    clocks,
    closing,
    estimates,
    hand_back,
    intake,
    jobs,
    labour,
)

urlpatterns = [
    path("jobs/", jobs.JobList.as_view(), name="job-list"),
    path("jobs/log-in/", intake.intake, name="intake"),
    path("jobs/log-in/history/", intake.intake_history, name="intake-history"),
    path("jobs/buy/", intake.purchase_add, name="purchase-add"),
    path("jobs/own/<int:pk>/", intake.own_job_add, name="own-job-add"),
    path("jobs/parts-to-order/", jobs.parts_to_order, name="parts-to-order"),
    path("jobs/<str:number>/", jobs.job, name="job"),
    path("j/<str:number>/", jobs.job_link, name="job-link"),
    path("jobs/<str:number>/ticket/", intake.ticket, name="ticket"),
    path("jobs/<str:number>/ticket/code.svg", intake.ticket_code, name="ticket-code"),
    path("jobs/<str:number>/inspect/", jobs.job_inspect, name="job-inspect"),
    path("jobs/<str:number>/estimate/", estimates.estimate_make, name="estimate-make"),
    path("jobs/<str:number>/estimate/<int:version>/", estimates.estimate, name="estimate"),
    path(
        "jobs/<str:number>/estimate/<int:version>/offer/",
        estimates.estimate_offer,
        name="estimate-offer",
    ),
    path(
        "jobs/<str:number>/estimate/<int:version>/answer/",
        estimates.estimate_answer,
        name="estimate-answer",
    ),
    path(
        "jobs/<str:number>/estimate/<int:version>/lines/add/",
        estimates.estimate_line_add,
        name="estimate-line-add",
    ),
    path(
        "jobs/<str:number>/estimate/<int:version>/choice/",
        alternatives.alternative_add,
        name="alternative-add",
    ),
    path(
        "jobs/<str:number>/estimate/<int:version>/choice/<str:letter>/drop/",
        alternatives.alternative_drop,
        name="alternative-drop",
    ),
    path(
        "jobs/<str:number>/estimate/lines/<int:pk>/",
        estimates.estimate_line_edit,
        name="estimate-line-edit",
    ),
    path(
        "jobs/<str:number>/estimate/lines/<int:pk>/drop/",
        estimates.estimate_line_drop,
        name="estimate-line-drop",
    ),
    path("jobs/<str:number>/start/", labour.work_start, name="work-start"),
    path("jobs/<str:number>/parts/", labour.part_take, name="part-take"),
    path("jobs/<str:number>/parts/<int:pk>/back/", labour.part_put_back, name="part-put-back"),
    path("jobs/<str:number>/clock/", clocks.clock_start, name="clock-start"),
    path("clocks/<int:pk>/stop/", clocks.clock_stop, name="clock-stop"),
    path("jobs/<str:number>/time/", labour.time_add, name="time-add"),
    path("jobs/<str:number>/close/", closing.job_close, name="job-close"),
    path("jobs/<str:number>/cancel/", closing.job_cancel, name="job-cancel"),
    path("jobs/<str:number>/notice/", closing.notice, name="notice"),
    path("jobs/<str:number>/hand-back/", hand_back.hand_back, name="hand-back"),
]
