"""From facts to causes and from causes to what to do: one table of likelihoods, one exact combination, stated rules."""
