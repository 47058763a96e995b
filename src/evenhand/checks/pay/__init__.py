"""What can be wrong with rates, earnings and the money that hours come to."""
