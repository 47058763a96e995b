"""What punches record, before any law: one act each, who was in and when, and civil time."""
