"""The plan of an enrolment day."""
