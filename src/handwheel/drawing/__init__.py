"""Sizing: a `Job` to a `Drawing`, every size solved, tolerances carried."""
