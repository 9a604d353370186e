"""The own local authority, tried with a real handshake of the machine's TLS library."""

import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from fifthwire.model.errors import InputError
from fifthwire.workflow.tls import authority_for_a_phone, given_certificate, names_of_this_computer, own_certificate

NAMES = ("localhost", "office", "office.local", "192.168.7.20")


def handshake(certificate, name, trusted=None):
    """Both ends in memory; the phone's side checks chain, dates, constraints and name."""
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(certificate.certificate_path, certificate.key_path)
    phone = ssl.create_default_context(cafile=trusted or certificate.authority_path)
    to_server, to_phone = ssl.MemoryBIO(), ssl.MemoryBIO()
    ends = [
        phone.wrap_bio(to_phone, to_server, server_hostname=name),
        server.wrap_bio(to_server, to_phone, server_side=True),
    ]
    for _ in range(10):
        for end in list(ends):
            try:
                end.do_handshake()
                ends.remove(end)
            except ssl.SSLWantReadError:
                pass
    assert not ends


def signed_by(certificate, name):
    """A certificate for another name, signed with the own authority's key: what a thief of the key could make."""
    home = Path(certificate.authority_path).parent
    authority = x509.load_pem_x509_certificate(Path(certificate.authority_path).read_bytes())
    authority_key = serialization.load_pem_private_key((home / "authority-key.pem").read_bytes(), None)
    key = ec.generate_private_key(ec.SECP256R1())
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)]))
        .issuer_name(authority.subject)
        .public_key(key.public_key())
        .serial_number(1)
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=9))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(name)]), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key()), critical=False)
        .sign(authority_key, hashes.SHA256())
    )
    Path(certificate.certificate_path).write_bytes(made.public_bytes(serialization.Encoding.PEM))
    Path(certificate.key_path).write_bytes(
        key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())
    )
    return certificate


@pytest.mark.parametrize("name", NAMES)
def test_a_phone_that_trusts_the_authority_connects_by_every_name(tmp_path, name):
    handshake(own_certificate(tmp_path / "keys", NAMES), name)


def test_a_phone_that_does_not_trust_it_refuses(tmp_path):
    certificate = own_certificate(tmp_path / "keys", NAMES)
    other = own_certificate(tmp_path / "others", NAMES)

    with pytest.raises(ssl.SSLCertVerificationError, match="verify failed"):
        handshake(certificate, "office", trusted=other.authority_path)


def test_a_phone_refuses_a_name_that_is_not_in_the_certificate(tmp_path):
    with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
        handshake(own_certificate(tmp_path / "keys", NAMES), "elsewhere.local")


def test_the_authority_cannot_speak_for_a_public_name_even_with_its_key(tmp_path):
    forged = signed_by(own_certificate(tmp_path / "keys", NAMES), "bank.example")

    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        handshake(forged, "bank.example")


def test_keys_are_readable_by_their_owner_alone(tmp_path):
    own_certificate(tmp_path / "keys", NAMES)

    for name in ("key.pem", "authority-key.pem"):
        assert stat.S_IMODE((tmp_path / "keys" / name).stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "keys").stat().st_mode) == 0o700


def test_a_second_start_keeps_what_is_there(tmp_path):
    first = own_certificate(tmp_path / "keys", NAMES)
    kept = (tmp_path / "keys" / "certificate.pem").read_bytes()

    assert own_certificate(tmp_path / "keys", NAMES) == first
    assert (tmp_path / "keys" / "certificate.pem").read_bytes() == kept


def test_another_private_name_needs_a_new_certificate_and_the_same_authority(tmp_path):
    first = own_certificate(tmp_path / "keys", NAMES)
    second = own_certificate(tmp_path / "keys", (*NAMES, "10.1.2.3"))

    assert second.authority_fingerprint == first.authority_fingerprint
    handshake(second, "10.1.2.3")


def test_a_public_name_the_authority_was_made_without_is_refused(tmp_path):
    own_certificate(tmp_path / "keys", NAMES)

    with pytest.raises(InputError, match=r"made without the name vrf\.company\.example"):
        own_certificate(tmp_path / "keys", (*NAMES, "vrf.company.example"))


def test_a_public_name_that_was_given_first_is_covered(tmp_path):
    handshake(own_certificate(tmp_path / "keys", ("vrf.company.example",)), "vrf.company.example")


def test_a_certificate_near_its_end_is_made_anew_by_the_same_authority(tmp_path):
    now = datetime.now(UTC)
    old = own_certificate(tmp_path / "keys", NAMES, now_utc=now - timedelta(days=380))
    new = own_certificate(tmp_path / "keys", NAMES, now_utc=now)

    assert new.not_after_utc > old.not_after_utc
    assert new.authority_fingerprint == old.authority_fingerprint
    handshake(new, "office")


def test_an_authority_near_its_end_is_replaced_and_its_certificate_too(tmp_path):
    now = datetime.now(UTC)
    old = own_certificate(tmp_path / "keys", NAMES, now_utc=now - timedelta(days=3640))
    new = own_certificate(tmp_path / "keys", NAMES, now_utc=now)

    assert new.authority_fingerprint != old.authority_fingerprint
    handshake(new, "office")


def test_a_phone_is_given_the_authority_that_the_server_shows_the_fingerprint_of(tmp_path):
    certificate = own_certificate(tmp_path / "keys", NAMES)
    given = x509.load_der_x509_certificate(authority_for_a_phone(certificate))

    assert given.fingerprint(hashes.SHA256()).hex(":").upper() == certificate.authority_fingerprint
    assert given.extensions.get_extension_for_class(x509.NameConstraints).critical


def test_keys_that_are_damaged_are_named(tmp_path):
    own_certificate(tmp_path / "keys", NAMES)
    (tmp_path / "keys" / "authority-key.pem").write_text("nothing")

    with pytest.raises(InputError, match="cannot be used"):
        own_certificate(tmp_path / "keys", (*NAMES, "10.1.2.3"))


def test_certificate_files_are_taken_as_they_are(tmp_path):
    own = own_certificate(tmp_path / "keys", NAMES)
    given = given_certificate(own.certificate_path, own.key_path)

    assert (given.names, given.not_after_utc, given.authority_path) == (NAMES, own.not_after_utc, None)
    assert authority_for_a_phone(given) is None


def test_certificate_files_out_of_date_are_refused_before_the_server_starts(tmp_path):
    own = own_certificate(tmp_path / "keys", NAMES)

    with pytest.raises(InputError, match="is good from"):
        given_certificate(own.certificate_path, own.key_path, now_utc=datetime.now(UTC) + timedelta(days=400))


@pytest.mark.parametrize("wrong", ["no-such.pem", "of-another", "locked"])
def test_certificate_files_that_do_not_belong_together_are_refused(tmp_path, wrong):
    own = own_certificate(tmp_path / "keys", NAMES)
    key = tmp_path / wrong
    if wrong == "of-another":
        key.write_bytes(Path(own_certificate(tmp_path / "others", NAMES).key_path).read_bytes())
    elif wrong == "locked":
        locked = serialization.BestAvailableEncryption(b"secret")
        made = ec.generate_private_key(ec.SECP256R1())
        key.write_bytes(made.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, locked))

    with pytest.raises(InputError, match="cannot be used"):
        given_certificate(own.certificate_path, key)


def test_this_computer_knows_some_name_of_itself():
    assert {"localhost", "127.0.0.1"} < set(names_of_this_computer())
