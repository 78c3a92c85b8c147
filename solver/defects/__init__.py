"""Sheets with defects: planned as if sound, then arranged so that the parts go round them."""
