"""Match weights: what each comparison says for or against a match, in bits."""
