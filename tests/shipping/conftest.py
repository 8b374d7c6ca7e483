"""Centres for these tests."""

from tests.centre_fixtures import centre_url, empty_database, made_centre

__all__ = ["centre_url", "empty_database", "made_centre"]
