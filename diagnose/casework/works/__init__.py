"""The plant's arithmetic one computation at a time, forwards and backwards, each with its parameters, units and ranges."""
