"""Whatever numbers a tool's form accepts, the tool makes a result of them that can be shown."""

import pytest
from django import forms
from hypothesis import given
from hypothesis import strategies as st

from units.inspections.domain.measures.outcome import kept
from units.inspections.domain.measures.outside import MOST
from units.inspections.domain.measures.tools import TOOLS
from units.inspections.forms import FORMS
from units.inspections.forms.fields import MeasuredField
from units.inspections.selectors import tell


def written(field) -> st.SearchStrategy[str]:
    """What somebody may write into a field, within what machines have."""
    if isinstance(field, MeasuredField):
        most = MOST[field.sort] / (field.measure.size or 1)
        number = st.floats(0.0001, min(most, 99_999)).map("{:.4f}".format)
        return number if field.required else st.one_of(st.just(""), number)
    if isinstance(field, forms.ChoiceField):
        return st.sampled_from([str(value) for value, _ in field.choices])
    return st.integers(1, 40).map(str)


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("slug", list(TOOLS))
@given(data=st.data())
def test_no_accepted_form_is_left_without_a_result(slug, system, data):
    fields = FORMS[slug](system=system).fields
    form = FORMS[slug](
        {name: data.draw(written(field), name) for name, field in fields.items()}, system=system
    )
    if not form.is_valid():
        assert all(message for messages in form.errors.values() for message in messages)
        return
    outcome = TOOLS[slug].work(form.given())
    value, doubt, _ = kept(outcome.main)
    assert value.is_finite()
    assert doubt >= 0
    assert tell(outcome, system).main[1]
