from django.db.models import Prefetch
from django.utils import timezone
from django_filters.views import FilterView

from parts.support.selectors import standing_of
from shop.floor.models import Stay
from shop.front.filters import MachineFilter, ModelFilter
from units.catalogue.models import MachineModel, Unit

STAYS = Prefetch("stays", Stay.objects.select_related("owner").order_by("-came_on", "-id"))


class MachineList(FilterView):
    filterset_class = MachineFilter
    queryset = Unit.objects.with_identity().prefetch_related(STAYS)
    template_name = "front/machine_list.html"
    context_object_name = "machines"
    paginate_by = 50


class ModelList(FilterView):
    filterset_class = ModelFilter
    queryset = MachineModel.objects.current().select_related("maker", "kind")
    template_name = "front/model_list.html"
    context_object_name = "models"
    paginate_by = 50

    def get_context_data(self, **kwargs):
        context = super().get_context_data(**kwargs)
        models = context["models"]
        standing = context["filter"].standing or standing_of(models, timezone.localdate())
        return context | {"rows": [standing[model.pk] for model in models]}
