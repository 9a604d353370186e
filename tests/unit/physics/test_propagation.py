import pytest
from pytest import approx

from fifthwire.model.errors import InputError
from fifthwire.physics.propagation import combined_u, correlation_of_means, effective_dof, mean_of


def test_independent_parts_add_as_squares():
    assert combined_u([1.0, 2.0], [3.0, 2.0]) == approx(5.0)


def test_parts_that_move_together_add_straight():
    assert combined_u([1.0, 2.0], [3.0, 2.0], {(0, 1): 1.0}) == approx(7.0)


def test_parts_that_move_against_one_another_cancel():
    assert combined_u([1.0, 1.0], [3.0, 3.0], {(0, 1): -1.0}) == 0.0


@pytest.mark.parametrize("r", [1.01, -1.01])
def test_a_correlation_beyond_one_is_refused(r):
    with pytest.raises(InputError, match="outside -1 to 1"):
        combined_u([1.0, 1.0], [1.0, 1.0], {(0, 1): r})


def test_lists_of_different_length_are_refused():
    with pytest.raises(InputError, match="2 sensitivities for 1 uncertainties"):
        combined_u([1.0, 1.0], [1.0])


def test_one_part_keeps_its_degrees_of_freedom():
    assert effective_dof([0.3, 0.0], [4.0, 9.0]) == approx(4.0)


def test_exact_parts_have_as_many_degrees_of_freedom_as_one_likes():
    assert effective_dof([0.0, 0.0], [4.0, 9.0]) == float("inf")


def test_one_observation_has_no_spread():
    with pytest.raises(InputError, match="no spread"):
        mean_of([62.1])


def test_the_mean_of_equal_observations_is_exact():
    mean = mean_of([62.1, 62.1])

    assert (mean.value, mean.u, mean.dof) == (62.1, 0.0, 1)


def test_what_does_not_vary_is_correlated_with_nothing():
    assert correlation_of_means([1.0, 1.0, 1.0], [2.0, 3.0, 9.0]) == 0.0


def test_opposite_courses_are_fully_anticorrelated():
    assert correlation_of_means([1.0, 2.0, 4.0], [8.0, 6.0, 2.0]) == approx(-1.0)
