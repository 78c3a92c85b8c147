"""Tests of `shared.making`."""
