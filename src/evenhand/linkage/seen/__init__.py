"""What is seen of strays and people, before it is weighed."""
