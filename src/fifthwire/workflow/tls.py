"""Encrypted connections for a register that several people share: an own local authority, or certificate files.

A phone in a plant room reaches the office's computer by a name or an address that no public authority vouches for. So
the program makes an authority of its own, once, and with it a certificate for this computer. The authority can speak
for private names and addresses only (name constraints, RFC 5280, 4.2.1.10): whoever trusts it on a phone gives nobody
the power to pose as anything else on the internet.
"""

import ipaddress
import os
import socket
import ssl
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from platformdirs import user_data_dir

from fifthwire.model.errors import InputError
from fifthwire.model.record import record

AUTHORITY_DAYS: Final = 3650
"""How long the own authority lasts: trusting it is a chore on every phone.  [days]  Our choice."""
CERTIFICATE_DAYS: Final = 397
"""How long a certificate lasts; browsers take no longer ones.  [days]  From memory: 398 days, of public authorities."""
RENEW_DAYS: Final = 30
"""A certificate with less left is made anew.  [days]  Our choice."""
PRIVATE_NAMES: Final = ("localhost", "local", "lan", "internal", "home.arpa")
"""Ends of names that mean nothing outside; RFC 6761, 6762, 8375, `internal` reserved in 2024, `lan` common practice."""
PRIVATE_NETWORKS: Final = (
    "127.0.0.0/8", "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10",
    "::1/128", "fc00::/7", "fe80::/10",
)  # fmt: skip
"""RFC 1122, 1918, 3927, 6598, 4291, 4193."""
NEW_AUTHORITY: Final = (
    "Give certificate files instead (--certificate, --key), or move the directory away: a new authority is made, "
    "which every phone has to trust anew."
)


@record
class Certificate:
    """Where the server finds its certificate and key, and what a person compares before trusting it."""

    certificate_path: str
    key_path: str
    names: tuple[str, ...]
    """Host names and addresses that it is good for."""
    not_after_utc: datetime
    authority_path: str | None = None
    """The own authority's certificate; None where the certificate was given as files."""
    authority_fingerprint: str | None = None
    """SHA-256 of the authority's certificate, in pairs of hexadecimal digits."""


def own_certificate(
    directory: str | Path, names: Sequence[str] | None = None, *, now_utc: datetime | None = None
) -> Certificate:
    """A certificate of the own local authority; both are made where they are missing, out of date or short of a name.

    Parameters
    ----------
    directory : str or Path
        Where the keys live; made if it is missing, readable by its owner alone.
    names : Sequence[str], optional
        Host names and addresses by which others reach this computer; left out: those that it knows of itself.
    now_utc : datetime, optional
        For tests; left out: the clock.

    Raises
    ------
    InputError
        If a name is public and the authority was made without it, or the directory cannot be used.
    """
    now = now_utc or datetime.now(UTC)
    home = Path(directory)
    wanted = tuple(dict.fromkeys(names or names_of_this_computer()))
    try:
        home.mkdir(mode=0o700, parents=True, exist_ok=True)
        authority, key = _authority(home, wanted, now)
        _refuse_names_outside(authority, wanted)
        certificate = _certificate(home, wanted, authority, key, now)
    except (OSError, ValueError, TypeError) as err:
        if isinstance(err, InputError):
            raise
        raise InputError(
            f"The keys in {home} cannot be used: {err}.", hint="Move the directory away to make new ones."
        ) from err
    return Certificate(
        certificate_path=str(home / "certificate.pem"),
        key_path=str(home / "key.pem"),
        names=wanted,
        not_after_utc=certificate.not_valid_after_utc,
        authority_path=str(home / "authority.pem"),
        authority_fingerprint=fingerprint(authority),
    )


def keys_directory() -> Path:
    """Where the own authority's keys live unless told: beside the register, in the user's own data."""
    return Path(user_data_dir("fifthwire", appauthor=False)) / "tls"


def given_certificate(
    certificate_path: str | Path, key_path: str | Path, *, now_utc: datetime | None = None
) -> Certificate:
    """The certificate files of a company, checked before the server starts with them.

    Raises
    ------
    InputError
        If they cannot be read, do not belong together or are out of date.
    """
    now = now_utc or datetime.now(UTC)
    try:
        certificate = x509.load_pem_x509_certificate(Path(certificate_path).read_bytes())
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(str(certificate_path), str(key_path), password=_none)
    except (OSError, ValueError) as err:
        why = getattr(err, "strerror", None) or str(err)
        raise InputError(
            f"The certificate {certificate_path} with the key {key_path} cannot be used: {why}.",
            hint="Both are PEM files, the key without a password; the certificate's chain follows in the same file.",
        ) from err
    if not certificate.not_valid_before_utc <= now < certificate.not_valid_after_utc:
        raise InputError(
            f"The certificate {certificate_path} is good from {certificate.not_valid_before_utc:%d %B %Y} to "
            f"{certificate.not_valid_after_utc:%d %B %Y} only.",
            hint="Renew it, or correct this computer's clock.",
        )
    return Certificate(
        certificate_path=str(certificate_path),
        key_path=str(key_path),
        names=_names_in(certificate),
        not_after_utc=certificate.not_valid_after_utc,
    )


def authority_for_a_phone(certificate: Certificate) -> bytes | None:
    """The own authority's certificate as phones take it (DER); None where certificate files were given."""
    if certificate.authority_path is None:
        return None
    authority = x509.load_pem_x509_certificate(Path(certificate.authority_path).read_bytes())
    return authority.public_bytes(serialization.Encoding.DER)


def names_of_this_computer() -> tuple[str, ...]:
    """Names and addresses by which others on the same network reach this computer, as far as it knows itself."""
    name = socket.gethostname().split(".")[0].lower()
    addresses = [_outward_address(socket.AF_INET, "192.0.2.1"), _outward_address(socket.AF_INET6, "2001:db8::1")]
    return tuple(dict.fromkeys(["localhost", "127.0.0.1", name, f"{name}.local", *filter(None, addresses)]))


def _outward_address(family: socket.AddressFamily, toward: str) -> str | None:
    """The own address on the way out; connecting a datagram socket sends nothing (the target is for documentation)."""
    try:
        with socket.socket(family, socket.SOCK_DGRAM) as probe:
            probe.connect((toward, 9))
            return str(probe.getsockname()[0])
    except OSError:
        return None


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 of a certificate in pairs of digits, as phones and browsers show it."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def _none() -> str:
    """No password: without this a key that has one would ask for it at the terminal."""
    return ""


def _authority(home: Path, names: Sequence[str], now: datetime) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    """The authority that is there, else a new one; one that ends before a new certificate would is replaced."""
    certificate_path, key_path = home / "authority.pem", home / "authority-key.pem"
    if certificate_path.exists() and key_path.exists():
        kept = x509.load_pem_x509_certificate(certificate_path.read_bytes())
        if kept.not_valid_after_utc > now + timedelta(days=RENEW_DAYS):
            return kept, _load_key(key_path)
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name(
        [x509.NameAttribute(NameOID.COMMON_NAME, f"Fifthwire on {socket.gethostname()[:40]}, {now:%d %B %Y}")]
    )
    made = (
        _begun(subject, subject, key.public_key(), now, AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(is_authority=True), critical=True)
        .add_extension(_constraints(names), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write_key(key_path, key)
    certificate_path.write_bytes(made.public_bytes(serialization.Encoding.PEM))
    return made, key


def _certificate(
    home: Path, names: Sequence[str], authority: x509.Certificate, authority_key: ec.EllipticCurvePrivateKey,
    now: datetime,
) -> x509.Certificate:  # fmt: skip
    """The certificate that is there, else a new one: for other names, near its end, or of another authority."""
    certificate_path, key_path = home / "certificate.pem", home / "key.pem"
    if certificate_path.exists() and key_path.exists():
        kept = x509.load_pem_x509_certificate(certificate_path.read_bytes())
        lasts = kept.not_valid_after_utc > now + timedelta(days=RENEW_DAYS)
        if lasts and set(_names_in(kept)) == set(names) and _is_signed_by(kept, authority):
            return kept
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names[0][:64])])
    days = min(CERTIFICATE_DAYS, (authority.not_valid_after_utc - now).days)
    made = (
        _begun(subject, authority.subject, key.public_key(), now, days)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(is_authority=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([_general_name(name) for name in names]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key()), critical=False
        )
        .sign(authority_key, hashes.SHA256())
    )  # fmt: skip
    _write_key(key_path, key)
    certificate_path.write_bytes(made.public_bytes(serialization.Encoding.PEM))
    return made


def _begun(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePublicKey, now: datetime, days: int
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))  # a phone's clock may be behind
        .not_valid_after(now + timedelta(days=days))
    )


def _usage(*, is_authority: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not is_authority,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=is_authority,
        crl_sign=is_authority,
        encipher_only=False,
        decipher_only=False,
    )


def _constraints(names: Iterable[str]) -> x509.NameConstraints:
    """Private names and addresses, and the names that were asked for when the authority was made."""
    dns = dict.fromkeys([*PRIVATE_NAMES, *(name for name in names if _address(name) is None)])
    networks = dict.fromkeys([*PRIVATE_NETWORKS, *(name for name in names if _address(name) is not None)])
    return x509.NameConstraints(
        permitted_subtrees=[
            *(x509.DNSName(name) for name in dns),
            *(x509.IPAddress(ipaddress.ip_network(network)) for network in networks),
        ],
        excluded_subtrees=None,
    )


def _refuse_names_outside(authority: x509.Certificate, names: Iterable[str]) -> None:
    permitted = authority.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
    for name in names:
        if not any(_covers(subtree, name) for subtree in permitted):
            raise InputError(f"The own authority was made without the name {name} and cannot speak for it.",
                             hint=NEW_AUTHORITY)  # fmt: skip


def _covers(subtree: x509.GeneralName, name: str) -> bool:
    address, covered = _address(name), subtree.value
    if isinstance(covered, ipaddress.IPv4Network | ipaddress.IPv6Network):
        return address is not None and address in covered
    return address is None and (name == covered or name.endswith(f".{covered}"))


def _address(name: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(name)
    except ValueError:
        return None


def _general_name(name: str) -> x509.GeneralName:
    address = _address(name)
    return x509.DNSName(name) if address is None else x509.IPAddress(address)


def _names_in(certificate: x509.Certificate) -> tuple[str, ...]:
    try:
        names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return ()
    return tuple(str(name.value) for name in names)


def _is_signed_by(certificate: x509.Certificate, authority: x509.Certificate) -> bool:
    try:
        certificate.verify_directly_issued_by(authority)
    except Exception:  # noqa: BLE001 - whatever is wrong with it, a new one is made
        return False
    return True


def _load_key(path: Path) -> ec.EllipticCurvePrivateKey:
    key = serialization.load_pem_private_key(path.read_bytes(), password=None)
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        raise InputError(f"{path} is no key of ours.", hint="Move the directory away to make new ones.")
    return key


def _write_key(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    """Readable by its owner alone from the first byte on."""
    content = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as stream:
        stream.write(content)
