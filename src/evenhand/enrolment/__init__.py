"""Enrolment: plan the day, run it at the reader, prove that it worked; and the queues at the readers."""
