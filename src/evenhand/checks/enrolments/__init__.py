"""What can be wrong with people, their numbers and the hands enrolled under them."""
