"""Records of people and of decisions: consent, retention and removal, access, sign-off, the ledger."""
