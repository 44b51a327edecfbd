from django.http import HttpResponse


def robots(request):
    """The books of a shop are nothing for a search engine."""
    return HttpResponse("User-agent: *\nDisallow: /\n", content_type="text/plain")
