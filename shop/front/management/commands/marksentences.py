from django.conf import settings
from django.core.management.base import BaseCommand
from django.utils.translation import gettext as _

from shop.front.domain.sentences import module_of, sentences_in


class Command(BaseCommand):
    help = "Writes marked copies of the reference tables' sentences, for translators."

    def handle(self, *args, **options):
        folder = settings.BASE_DIR / "fixtures" / "reference"
        sentences = sentences_in(folder)
        (folder / "sentences.py").write_text(module_of(sentences), encoding="utf-8")
        self.stdout.write(_("%(count)d sentences are marked.") % {"count": len(sentences)})
