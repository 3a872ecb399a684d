"""The site's own certificate: an authority made once, and a certificate it signs for the names
under which the site is reached today.

A phone that trusts the authority may keep the page for use without signal. The authority can sign
for nothing but private addresses and names, so trusting it cannot be turned against the phone's
owner elsewhere."""

import ipaddress
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from blockwright.store.folder import write_private

AUTHORITY_LASTS = timedelta(days=3650)
CERTIFICATE_LASTS = timedelta(days=397)  # Phones refuse longer ones
RENEWED_BEFORE = timedelta(days=30)

_PRIVATE = (
    "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10",
    "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128",
)  # fmt: skip
_LOCAL_NAMES = ("localhost", "local", "lan", "home.arpa", "internal")


def certificate_for(folder: Path, hosts: Sequence[str], now: datetime) -> tuple[Path, Path]:
    """Paths of certificate and key for these names and addresses, made or renewed where needed.

    `folder` is the data folder; keys are readable by its owner only. Raises ValueError for a public
    name, which the authority may not sign for."""
    place = folder / "certificate"
    place.mkdir(mode=0o700, exist_ok=True)
    names = sorted({*hosts, "localhost", "127.0.0.1"})
    chain, key = place / "site.crt", place / "site.key"
    if not _still_good(chain, key, names, now):
        _make(place, names, now)
    return chain, key


def _still_good(chain: Path, key: Path, names: Sequence[str], now: datetime) -> bool:
    if not chain.is_file() or not key.is_file():
        return False
    made = x509.load_pem_x509_certificates(chain.read_bytes())[0]
    said = made.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    covered = {str(name.value) for name in said}
    return set(names) <= covered and made.not_valid_after_utc - now > RENEWED_BEFORE


def _make(place: Path, names: Sequence[str], now: datetime) -> None:
    authority, authority_key = _authority(place, now)
    key = ec.generate_private_key(ec.SECP256R1())
    made = (
        _builder("Blockwright site", authority.subject, key, now, CERTIFICATE_LASTS)
        .add_extension(x509.SubjectAlternativeName([_name(name) for name in names]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key()),
            critical=False,
        )
        .sign(authority_key, hashes.SHA256())
    )
    write_private(place / "site.key", _pem(key))
    write_private(place / "site.crt", _crt(made) + _crt(authority))


def _authority(place: Path, now: datetime) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    crt, key_file = place / "authority.crt", place / "authority.key"
    if crt.is_file() and key_file.is_file():
        made = x509.load_pem_x509_certificate(crt.read_bytes())
        key = serialization.load_pem_private_key(key_file.read_bytes(), None)
        if isinstance(key, ec.EllipticCurvePrivateKey) and made.not_valid_after_utc > now:
            return made, key
    fresh = ec.generate_private_key(ec.SECP256R1())
    subject = _subject("Blockwright on this machine")
    made = (
        _builder("Blockwright on this machine", subject, fresh, now, AUTHORITY_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_may_sign(), critical=True)
        .add_extension(_private_only(), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(fresh.public_key()), False)
        .sign(fresh, hashes.SHA256())
    )
    write_private(key_file, _pem(fresh))
    write_private(crt, _crt(made))
    return made, fresh


def _builder(
    name: str,
    issuer: x509.Name,
    key: ec.EllipticCurvePrivateKey,
    now: datetime,
    lasts: timedelta,
) -> x509.CertificateBuilder:
    # A phone whose clock is a day behind must not find the certificate too new.
    begins = now.astimezone(UTC) - timedelta(days=1)
    return (
        x509.CertificateBuilder()
        .subject_name(_subject(name))
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begins)
        .not_valid_after(begins + lasts)
    )


def _subject(name: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])


def _name(name: str) -> x509.GeneralName:
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        if name.rpartition(".")[2] not in _LOCAL_NAMES and not name.endswith(".home.arpa"):
            raise ValueError(f"{name} is a public name; give it a public certificate") from None
        return x509.DNSName(name)
    if not any(address in ipaddress.ip_network(one) for one in _PRIVATE):
        raise ValueError(f"{name} is a public address; give it a public certificate")
    return x509.IPAddress(address)


def _private_only() -> x509.NameConstraints:
    networks = [x509.IPAddress(ipaddress.ip_network(one)) for one in _PRIVATE]
    names = [x509.DNSName(name) for name in _LOCAL_NAMES]
    return x509.NameConstraints(permitted_subtrees=[*names, *networks], excluded_subtrees=None)


def _may_sign() -> x509.KeyUsage:
    others = ("digital_signature", "content_commitment", "key_encipherment", "data_encipherment",
              "key_agreement", "crl_sign", "encipher_only", "decipher_only")  # fmt: skip
    return x509.KeyUsage(key_cert_sign=True, **dict.fromkeys(others, False))


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _crt(made: x509.Certificate) -> bytes:
    return made.public_bytes(serialization.Encoding.PEM)
