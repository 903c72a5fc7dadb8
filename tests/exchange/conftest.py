"""A moment from which the files of these tests are read."""

from datetime import UTC, datetime

import pytest


@pytest.fixture
def now() -> datetime:
    """Late in March 2026, after every date in the samples."""
    return datetime(2026, 3, 31, 12, 0, tzinfo=UTC)
