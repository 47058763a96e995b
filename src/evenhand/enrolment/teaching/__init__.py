"""Teaching supervisors their part at the reader: a round to practise on, and who can do it."""
