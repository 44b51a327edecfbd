"""The colours of the stylesheet against WCAG 2.2, and the things every template leaves out."""

import re

import pytest
from django.conf import settings
from django.template.loader import get_template
from django.urls import get_resolver

from shop.front.access import table

SHEET = settings.BASE_DIR / "shop/front/static/front/underbelt.css"
TEMPLATES = {
    str(path.relative_to(settings.BASE_DIR)): path
    for house in ("shop", "parts", "units")
    for path in sorted((settings.BASE_DIR / house).glob("**/templates/**/*.html"))
}


def schemes() -> dict[str, dict[str, str]]:
    """``{scheme: {colour's name: #rrggbb}}``; the dark one overrides the light one."""
    light, dark = re.findall(r":root \{(.*?)\}", SHEET.read_text(), re.DOTALL)[:2]
    pairs = [dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", text)) for text in (light, dark)]
    return {"light": pairs[0], "dark": pairs[0] | pairs[1]}


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it, of ``#rrggbb``."""
    shares = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_reckoned_as_the_document_says():
    # WCAG 2.2, "contrast ratio": 21:1 between black and white.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


TEXT = [
    ("ink", "paper"), ("ink", "card"), ("soft", "paper"), ("soft", "card"),
    ("deed", "paper"), ("deed", "card"), ("deed-ink", "deed"), ("strip-ink", "strip"),
    ("good", "card"), ("good", "paper"), ("watch", "card"), ("watch", "paper"),
    ("stop", "card"), ("stop", "paper"), ("ink", "tint-good"), ("ink", "tint-watch"),
    ("ink", "tint-stop"), ("stop", "tint-stop"), ("watch", "tint-watch"), ("good", "tint-good"),
    ("deed", "tint-good"), ("deed", "tint-watch"), ("deed", "tint-stop"), ("plate-ink", "plate"),
]  # fmt: skip


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), TEXT)
def test_text_stands_out_at_least_four_and_a_half_to_one(scheme, text, ground):
    # WCAG 2.2, success criterion 1.4.3.
    colours = schemes()[scheme]
    assert contrast(colours[text], colours[ground]) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("edge", "ground"),
    [("soft", "card"), ("soft", "paper"), ("deed", "card"), ("focus", "paper"), ("focus", "card")],
)
def test_edges_of_fields_and_the_focus_stand_out_at_least_three_to_one(scheme, edge, ground):
    # WCAG 2.2, success criterion 1.4.11.
    colours = schemes()[scheme]
    assert contrast(colours[edge], colours[ground]) >= 3


def offenders(judge) -> dict[str, object]:
    """What ``judge`` (the text of a template -> what is wrong with it) finds, by template."""
    found = {name: judge(path.read_text()) for name, path in TEMPLATES.items()}
    return {name: wrong for name, wrong in found.items() if wrong}


def test_there_are_templates_to_look_at():
    assert len(TEMPLATES) > 20


def test_no_template_holds_a_script_style_or_event_of_its_own():
    inline = re.compile(r"<style|\sstyle=|\son[a-z]+=|javascript:|<script(?! src=)")
    assert offenders(inline.findall) == {}


def test_every_template_reads_without_an_error():
    assert all(get_template(name.split("/templates/", 1)[1]) for name in TEMPLATES)


def test_templates_name_only_addresses_that_exist_and_that_the_table_opens():
    known = {name for name in get_resolver().reverse_dict if isinstance(name, str)}
    known &= {name for name, method in table()}
    named = re.compile(r"\{% url ['\"]([\w-]+)['\"]")
    assert offenders(lambda text: set(named.findall(text)) - known) == {}


def test_every_template_marks_its_sentences_for_translation():
    """Whatever is left of a page without its tags and places must hold no words."""
    assert offenders(unmarked_words) == {}


UNITS_OF_MEASURE = {"kg", "Hz", "Underbelt"}


def unmarked_words(text: str) -> list[str]:
    for taken in (
        r"\{#.*?#\}",
        r"\{% comment.*?endcomment %\}",
        r"\{% blocktranslate.*?endblocktranslate %\}",
        r"<(pre|code)>.*?</\1>",
        r"\{[{%].*?[%}]\}",
        r"<[^>]*>",
        r"&[a-z]+;",
    ):
        text = re.sub(taken, " ", text, flags=re.DOTALL)
    return [word for word in re.findall(r"[A-Za-z]{2,}", text) if word not in UNITS_OF_MEASURE]


def test_an_unmarked_sentence_would_be_seen():
    assert unmarked_words("<p>{% translate 'Marked' %} Not marked</p>") == ["Not", "marked"]
