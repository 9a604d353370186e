"""Passwords with the real parameters of the hash."""

from argon2 import PasswordHasher, Type, extract_parameters

from fifthwire.workflow.passwords import fits, hash_password, is_outdated

PASSWORD = "copper kettle ladder moss"


def test_a_password_fits_its_own_hash_and_no_other():
    hashed = hash_password(PASSWORD)

    assert fits(PASSWORD, hashed)
    assert not fits(PASSWORD + " ", hashed)
    assert not fits("", hashed)


def test_a_hash_is_argon2id_of_at_least_the_low_memory_profile():
    parameters = extract_parameters(hash_password(PASSWORD))  # RFC 9106, section 4: t = 3, m = 64 MiB, p = 4

    assert parameters.type is Type.ID
    assert (parameters.time_cost, parameters.memory_cost, parameters.parallelism) >= (3, 65536, 4)


def test_the_same_password_is_never_hashed_alike():
    assert hash_password(PASSWORD) != hash_password(PASSWORD)


def test_nothing_fits_where_there_is_no_hash_or_a_damaged_one():
    assert not fits("nobody has this password", None)
    assert not fits(PASSWORD, "$argon2id$damaged")


def test_a_hash_of_weaker_parameters_is_made_anew():
    assert is_outdated(PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(PASSWORD))
    assert not is_outdated(hash_password(PASSWORD))
