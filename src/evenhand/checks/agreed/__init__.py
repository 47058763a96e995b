"""What people and supervisors signed, and what they dispute."""
