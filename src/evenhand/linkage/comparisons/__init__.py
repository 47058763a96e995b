"""What is compared of a stray and a person: the comparison vector of record linkage."""
