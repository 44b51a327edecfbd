"""What is known of one customer, gathered from the houses above people."""

from dataclasses import dataclass

from django.db.models import Q

from shop.people.models import Customer
from shop.people.selectors import customer_page as with_places
from shop.till.models import Invoice
from shop.work.models import WorkOrder

SHOWN = 20


@dataclass(frozen=True)
class CustomerPage:
    customer: Customer
    jobs: list[WorkOrder]
    invoices: list[Invoice]


def customer_page(pk: int) -> CustomerPage:
    """The customer, and the newest jobs and invoices that they own or pay for. Four queries.

    Raises Customer.DoesNotExist.
    """
    customer = with_places().get(pk=pk)
    jobs = WorkOrder.objects.with_machine().filter(Q(owner=customer) | Q(payer=customer))
    invoices = Invoice.objects.with_balance().filter(customer=customer)
    return CustomerPage(
        customer,
        list(jobs.order_by("-opened_on", "-pk")[:SHOWN]),
        list(invoices.order_by("-issued_on", "-pk")[:SHOWN]),
    )
