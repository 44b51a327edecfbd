"""A certificate of the shop's own, for https inside its own network.

No authority vouches for it: a browser asks once whether to trust it, and ``fingerprint`` is what
a person compares. Key and certificate stand in one file that only its owner can read.
"""

import os
import socket
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

LASTS = timedelta(days=397)  # the longest that phones accept
RENEWED_BEFORE = timedelta(days=30)
CLOCKS_DIFFER = timedelta(days=1)


@dataclass(frozen=True)
class Names:
    """What a browser may have typed to reach this computer."""

    hosts: tuple[str, ...]
    addresses: tuple[str, ...]


def own_addresses() -> list[str]:
    """This computer's IPv4 addresses in the networks it stands in, loopback left out."""
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, suppress(OSError):
        # Choosing a route to a documentation address (RFC 5737) sends nothing.
        probe.connect(("192.0.2.1", 9))
        found.append(probe.getsockname()[0])
    with suppress(OSError):
        found += socket.gethostbyname_ex(socket.gethostname())[2]
    return list(dict.fromkeys(item for item in found if not ip_address(item).is_loopback))


def own_names() -> Names:
    host = socket.gethostname()
    hosts = ["localhost", host, f"{host.split('.')[0]}.local"]
    addresses = ["127.0.0.1", "::1", *own_addresses()]
    return Names(tuple(dict.fromkeys(hosts)), tuple(addresses))


def kept_certificate(path: Path, names: Names, at: datetime) -> x509.Certificate:
    """The certificate in the file, made anew when it is missing, runs out soon or names too little.

    ``at`` is an aware instant.
    """
    if path.exists():
        kept = read(path)
        if kept and kept.not_valid_after_utc - at > RENEWED_BEFORE and covers(kept, names):
            return kept
    key = ec.generate_private_key(ec.SECP256R1())
    made = signed(key, names, at)
    keep(path, key, made)
    return made


def read(path: Path) -> x509.Certificate | None:
    try:
        return x509.load_pem_x509_certificate(path.read_bytes())
    except ValueError:
        return None


def covers(certificate: x509.Certificate, names: Names) -> bool:
    named = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    hosts = named.get_values_for_type(x509.DNSName)
    addresses = {str(item) for item in named.get_values_for_type(x509.IPAddress)}
    return set(names.hosts) <= set(hosts) and set(names.addresses) <= addresses


def signed(key: ec.EllipticCurvePrivateKey, names: Names, at: datetime) -> x509.Certificate:
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Underbelt")])
    named = [x509.DNSName(item) for item in names.hosts]
    named += [x509.IPAddress(ip_address(item)) for item in names.addresses]
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(at - CLOCKS_DIFFER)
        .not_valid_after(at - CLOCKS_DIFFER + LASTS)
        .add_extension(x509.SubjectAlternativeName(named), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )


def keep(path: Path, key: ec.EllipticCurvePrivateKey, certificate: x509.Certificate) -> None:
    """Written whole beside the old file and then put in its place."""
    new = path.with_suffix(".new")
    new.unlink(missing_ok=True)
    path.parent.mkdir(parents=True, exist_ok=True)
    with os.fdopen(os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(
            key.private_bytes(
                serialization.Encoding.PEM,
                serialization.PrivateFormat.PKCS8,
                serialization.NoEncryption(),
            )
        )
        file.write(certificate.public_bytes(serialization.Encoding.PEM))
    new.replace(path)


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 in pairs, as browsers show it."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()
