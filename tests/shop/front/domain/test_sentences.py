from pathlib import Path

from shop.front.domain.sentences import module_of, sentences_in

REFERENCE = Path(__file__).parents[4] / "fixtures" / "reference"


def test_every_sentence_of_the_reference_tables_is_marked_for_translation():
    """After a table was edited: ``python manage.py marksentences``."""
    marked = (REFERENCE / "sentences.py").read_text(encoding="utf-8")
    assert marked == module_of(sentences_in(REFERENCE))


def test_what_people_read_is_gathered_and_keys_are_not(tmp_path):
    (tmp_path / "steps.toml").write_text(
        '[cautions]\nunplug = "Unplug it."\n'
        '[[steps]]\nkey = "belt"\ntitle = "Belt"\n'
        'conditions = [{ condition = "dry", label = "dry belt" }]\n'
    )
    assert sentences_in(tmp_path) == ["Belt", "Unplug it.", "dry belt"]
    assert module_of(["Unplug it."]).endswith("_('Unplug it.')\n")
