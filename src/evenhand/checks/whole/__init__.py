"""Checks that the period is whole: every log reaches over it, and everybody who was to come left a punch."""
