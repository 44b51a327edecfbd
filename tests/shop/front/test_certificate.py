import stat
import sys
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509

from shop.front.certificate import (
    LASTS,
    RENEWED_BEFORE,
    Names,
    fingerprint,
    kept_certificate,
    own_addresses,
    own_names,
)

AT = datetime(2026, 10, 5, 9, tzinfo=UTC)
NAMES = Names(("localhost", "bench", "bench.local"), ("127.0.0.1", "::1", "192.0.2.7"))


@pytest.fixture
def path(tmp_path):
    return tmp_path / "home" / "https.pem"


def named_in(certificate) -> x509.SubjectAlternativeName:
    return certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value


def test_it_names_every_host_and_address(path):
    named = named_in(kept_certificate(path, NAMES, AT))
    assert named.get_values_for_type(x509.DNSName) == ["localhost", "bench", "bench.local"]
    assert [str(item) for item in named.get_values_for_type(x509.IPAddress)] == [
        "127.0.0.1",
        "::1",
        "192.0.2.7",
    ]


def test_it_serves_and_cannot_vouch_for_others(path):
    extensions = kept_certificate(path, NAMES, AT).extensions
    assert not extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    usage = extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [x509.ExtendedKeyUsageOID.SERVER_AUTH]


def test_it_lasts_no_longer_than_phones_accept(path):
    made = kept_certificate(path, NAMES, AT)
    assert made.not_valid_before_utc < AT
    assert made.not_valid_after_utc - made.not_valid_before_utc == timedelta(days=397)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps no file mode")
def test_key_and_certificate_are_readable_by_their_owner_alone(path):
    kept_certificate(path, NAMES, AT)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_it_is_kept_from_one_start_to_the_next(path):
    first = kept_certificate(path, NAMES, AT)
    assert kept_certificate(path, NAMES, AT + timedelta(days=300)) == first


def test_it_is_kept_when_the_computer_loses_an_address(path):
    first = kept_certificate(path, NAMES, AT)
    assert kept_certificate(path, Names(("localhost",), ("127.0.0.1",)), AT) == first


@pytest.mark.parametrize(
    "names",
    [Names(("other",), NAMES.addresses), Names(NAMES.hosts, ("198.51.100.4",))],
    ids=["a new name", "a new address"],
)
def test_it_is_made_anew_for_a_name_it_does_not_cover(path, names):
    first = kept_certificate(path, NAMES, AT)
    assert kept_certificate(path, names, AT) != first


def test_it_is_made_anew_before_it_runs_out(path):
    first = kept_certificate(path, NAMES, AT)
    near = first.not_valid_after_utc - RENEWED_BEFORE
    assert kept_certificate(path, NAMES, near - timedelta(seconds=1)) == first
    assert kept_certificate(path, NAMES, near).not_valid_after_utc > near + LASTS / 2


def test_a_spoilt_file_is_replaced(path):
    path.parent.mkdir()
    path.write_text("not a certificate")
    made = kept_certificate(path, NAMES, AT)
    assert kept_certificate(path, NAMES, AT) == made


def test_the_fingerprint_reads_as_browsers_show_it(path):
    shown = fingerprint(kept_certificate(path, NAMES, AT))
    assert len(shown.split(":")) == 32
    assert shown == shown.upper()


def test_own_names_hold_this_computer_under_every_address():
    names = own_names()
    assert names.hosts[0] == "localhost"
    assert names.addresses[:2] == ("127.0.0.1", "::1")
    assert set(own_addresses()) <= set(names.addresses)
    assert not any(address.startswith("127.") for address in own_addresses())
