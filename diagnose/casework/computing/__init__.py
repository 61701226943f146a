"""From a batch record to computed values, one module per part of the chain; comparing them is left to `batch_results`."""
