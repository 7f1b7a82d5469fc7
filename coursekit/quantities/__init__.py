"""Typed text to SI and back; the only package that knows the unit library.

Callers use `parse` and `display`, name units by the symbols of `units`, and
catch `errors.QuantityError`.
"""
