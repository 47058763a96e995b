"""What the ledger is made of: canonical texts, digests, the tree over its entries, and what an entry says."""
