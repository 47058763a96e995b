"""Queues at the readers: published formulas, the line person by person, and the line at shift change."""
