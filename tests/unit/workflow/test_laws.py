"""The priors: shipped or the user's own."""

from hashlib import sha256

import pytest

import fifthwire.diagnosis
from fifthwire.model.errors import VisitFileError
from fifthwire.workflow.laws import SHIPPED_PRIORS, load_priors
from fifthwire.workflow.shipped import shipped_file


def test_the_shipped_priors_are_read_from_the_package():
    priors = load_priors()

    assert priors.sound_by_reason["planned"] == 0.97
    assert priors.sha256 == sha256(shipped_file(fifthwire.diagnosis, SHIPPED_PRIORS)).hexdigest()


def test_a_users_file_takes_their_place(tmp_path):
    own = tmp_path / "own.toml"
    own.write_bytes(shipped_file(fifthwire.diagnosis, SHIPPED_PRIORS).replace(b"planned = 0.97", b"planned = 0.90"))

    assert load_priors(str(own)).sound_by_reason["planned"] == 0.90


@pytest.mark.parametrize(
    "content",
    [b"", b"not toml", b"\xff\xfe", b"[sound]\nplanned = 2.0\n", b"sound = 1\n", b"\x00" * 9, b"a = " + b"[" * 5000],
)
def test_what_is_no_priors_file_is_refused_by_its_name(tmp_path, content):
    own = tmp_path / "own.toml"
    own.write_bytes(content)

    with pytest.raises(VisitFileError) as raised:
        load_priors(str(own))

    assert raised.value.name == str(own)
    assert raised.value.problems[0].message


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"low = 2, high = 200", b"low = 200, high = 2"),
        (b"planned = 0.97", b'planned = "most"'),
        (b"winding_to_winding = 0.004", b'winding_to_winding = "small"'),
        (b"ranges = [[0.40, 0.75], [1.35, 2.50]]", b"ranges = 3"),
        (b"open-winding = 0.20", b"open-winding = nan"),
        (b"[mechanical]", b"[mechanics]"),
        (b"planned = 0.97", b""),
        (b"suspected = 0.70", b""),
        (b"bobbin_to_bobbin = 0.007", b"bobbin_to_bobbin = nan"),
        (b"winding_to_winding = 0.004", b"winding_to_winding = 0"),
        (b"open_above_ohm = 20e6", b"open_above_ohm = inf"),
        (b"ranges = [[0.40, 0.75], [1.35, 2.50]]", b"ranges = []"),
        (b"low = 0.03, high = 0.60", b"low = 0.03, high = 1.60"),
    ],
)
def test_one_wrong_number_is_refused(tmp_path, old, new):
    own = tmp_path / "own.toml"
    shipped = shipped_file(fifthwire.diagnosis, SHIPPED_PRIORS)
    assert old in shipped
    own.write_bytes(shipped.replace(old, new))

    with pytest.raises(VisitFileError):
        load_priors(str(own))
