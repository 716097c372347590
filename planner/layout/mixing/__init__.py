"""Blocks of many sizes without gaps: columns or rows of bands, every size chosen with them."""
