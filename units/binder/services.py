"""Writing into a model's binder."""

from collections.abc import Collection
from datetime import datetime
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.core.files.base import File
from django.db import transaction
from django.utils.translation import gettext as _

from units.binder.models import (
    BenchNote,
    ErrorCode,
    ModelFile,
    NotePin,
    SuspectedComponent,
    TakenOut,
)
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Component, KindComponent, MachineModel
from units.catalogue.selectors import model_ids_of
from units.files.services import digest_of, store_paper


class BinderError(ValueError):
    """A refusal; its text is a sentence to show."""


@transaction.atomic
def add_file(
    *, model: MachineModel, upload: File, shows: str, title: str, by: AbstractBaseUser, at: datetime
) -> ModelFile:
    """Keep a PDF or a picture with a model. Raises BinderError when the model has it already,
    FileRefusedError when it cannot be kept."""
    model = _locked(model)
    title = _said(title, _("Say in a few words what the paper is."))
    there = ModelFile.objects.standing().filter(
        model__in=model_ids_of(model), file__original_digest=digest_of(upload)
    )
    if known := there.first():
        raise BinderError(_("This paper is here already, as “%(title)s”.") % {"title": known.title})
    return ModelFile.objects.create(
        model=model,
        file=store_paper(upload=upload, by=by, at=at),
        shows=ModelFile.Shows(shows),
        title=title,
        added_at=at,
        added_by=by,
    )


@transaction.atomic
def write_note(
    *,
    model: MachineModel,
    text: str,
    sort: str = BenchNote.Sort.BENCH,
    pinned: bool = False,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> BenchNote:
    """Write a note; the same key gives the first note again. Raises BinderError."""
    model = _locked(model)
    if note := BenchNote.objects.filter(key=key).first():
        return note
    text = _said(text, _("Write something down first."))
    note = BenchNote.objects.create(
        model=model,
        key=key,
        sort=BenchNote.Sort(sort),
        text=text,
        written_at=at,
        written_by=by,
    )
    if pinned:
        pin_note(note=note, pinned=True, by=by, at=at)
    return note


@transaction.atomic
def pin_note(*, note: BenchNote, pinned: bool, by: AbstractBaseUser, at: datetime) -> None:
    """Put a note on top, or take it from there. What is so already is not written again."""
    _locked(note.model)
    standing = BenchNote.objects.with_pin().get(pk=note.pk)
    if standing.pinned != pinned:
        NotePin.objects.create(note=note, pinned=pinned, changed_at=at, changed_by=by)


@transaction.atomic
def record_error_code(
    *,
    model: MachineModel,
    code: str,
    meaning: str,
    components: Collection[Component] = (),
    source: str,
    by: AbstractBaseUser,
    at: datetime,
) -> ErrorCode:
    """Write down what a code means. Two sources may say two things of one code, but the same
    meaning stands once. Raises BinderError."""
    model = _locked(model)
    key = match_key(code)
    if not key:
        raise BinderError(_("A code has at least one letter or digit."))
    meaning = _said(meaning, _("Say what the code means."))
    known = ErrorCode.objects.standing().filter(model__in=model_ids_of(model), code_key=key)
    if known.filter(meaning__iexact=meaning).exists():
        raise BinderError(_("This meaning of %(code)s is written down already.") % {"code": code})
    _require_of_kind(model, components)
    row = ErrorCode.objects.create(
        model=model,
        code=" ".join(code.split()),
        code_key=key,
        meaning=meaning,
        source=_said(source, _("Say who says so: a manual and its page, a call, or the bench.")),
        recorded_at=at,
        recorded_by=by,
    )
    SuspectedComponent.objects.bulk_create(
        SuspectedComponent(error_code=row, component=component) for component in components
    )
    return row


@transaction.atomic
def take_out(
    *,
    entry: ModelFile | BenchNote | ErrorCode,
    reason: str,
    by: AbstractBaseUser,
    at: datetime,
) -> TakenOut:
    """Show an entry no longer, for a reason. Raises BinderError when somebody did so before."""
    _locked(entry.model)
    reason = _said(reason, _("Say what is wrong with it."))
    name = {ModelFile: "file", BenchNote: "note", ErrorCode: "error_code"}[type(entry)]
    if TakenOut.objects.filter(**{name: entry}).exists():
        raise BinderError(_("Somebody took this out already."))
    return TakenOut.objects.create(**{name: entry}, reason=reason, taken_out_at=at, taken_out_by=by)


def _locked(model: MachineModel) -> MachineModel:
    """The model, held; of one that was merged, the one that stands for it."""
    locked = MachineModel.objects.select_for_update().get(pk=model.pk)
    return locked.current


def _said(text: str, sentence: str) -> str:
    text = text.strip()
    if not text:
        raise BinderError(sentence)
    return text


def _require_of_kind(model: MachineModel, components: Collection[Component]) -> None:
    slugs = {component.pk for component in components}
    known = KindComponent.objects.filter(kind=model.kind_id, component__in=slugs)
    if known.count() != len(slugs):
        raise BinderError(_("One of these components is not in this kind of machine."))
