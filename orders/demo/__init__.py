"""A made-up shop, to look round in."""
