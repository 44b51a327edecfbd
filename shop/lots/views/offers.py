from django.views.generic import DetailView
from django_filters.views import FilterView

from shop.lots.filters import OfferFilter
from shop.lots.selectors import offer_page, offer_rows


class OfferList(FilterView):
    queryset = offer_rows()
    filterset_class = OfferFilter
    template_name = "lots/offer_list.html"
    context_object_name = "offers"
    paginate_by = 50


class OfferPage(DetailView):
    queryset = offer_page()
    template_name = "lots/offer.html"
    context_object_name = "offer"
