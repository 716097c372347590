"""A test that cannot run says so at home, and fails where everything must be checked."""

import pytest

from tests import conftest


def test_at_home_it_is_skipped_with_the_reason(monkeypatch):
    monkeypatch.setattr(conftest, "IN_CI", False)
    with pytest.raises(pytest.skip.Exception, match="no tables"):
        conftest.leave_out("Not compared: there are no tables.")


def test_under_ci_it_fails(monkeypatch):
    monkeypatch.setattr(conftest, "IN_CI", True)
    with pytest.raises(pytest.fail.Exception, match="no tables"):
        conftest.leave_out("Not compared: there are no tables.")
