"""Layouts: which block each piece gets, and whether the whole sews in straight seams."""
