"""Many heads in one drawing."""

from fifthwire.assessment.drawing_heads import HeadRow, heads_picture


def test_a_winding_that_passes_stands_inside_its_band_and_one_far_off_at_the_end_of_the_scale():
    rows = (
        HeadRow(name="IU01-valve", off_fracs=(0.0, 0.02), zones=("pass", "pass"), half_band_frac=0.1),
        HeadRow(name="IU02-valve", off_fracs=(0.9,), zones=("fail",), half_band_frac=0.1),
    )

    picture = heads_picture(rows, "Windings")

    assert "2 heads, a row each. 1 of them have no winding inside its band." in picture.description
    assert picture.svg.count("d-soft") == 2
    assert picture.svg.count("d-ring") == 2
    assert 'class="d-bad" x="576.0"' in picture.svg


def test_a_head_without_a_spec_has_no_band():
    picture = heads_picture((HeadRow(name="V", off_fracs=(0.0,), zones=("",), half_band_frac=None),), "Windings")

    assert "d-soft" not in picture.svg
    assert "V" in picture.svg
