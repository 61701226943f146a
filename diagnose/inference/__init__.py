"""Exact inference in a leaky noisy-OR network. Pure numbers: nothing here reads, prints, or knows what a ham is."""
