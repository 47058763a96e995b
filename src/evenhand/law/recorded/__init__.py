"""What punches record, before any law: one punch each, who was in and when, and civil time."""
